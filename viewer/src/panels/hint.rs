//! What the control under the mouse, or under the keyboard, is for: always at the same place, so that it covers
//! neither the control nor its neighbours.

use kiss3d::egui::{Label, Rect, RichText, TextStyle, Ui, UiBuilder, vec2};

use crate::palette;

/// Lines that a hint may take.
const LINES: f32 = 3.0;

/// Height kept free for a hint.
pub(super) fn height(ui: &Ui) -> f32 {
    ui.text_style_height(&TextStyle::Small) * LINES + 10.0
}

/// Writes a hint at the bottom of a panel.
pub(super) fn show(ui: &mut Ui, panel: Rect, hint: Option<&str>) {
    let Some(hint) = hint else { return };
    let inner = panel.shrink2(vec2(10.0, 5.0));
    // A hint longer than the room kept for it takes what it needs, over what stands above.
    let words = ui.painter().layout(
        hint.to_owned(),
        TextStyle::Small.resolve(ui.style()),
        palette::INK.egui(),
        inner.width(),
    );
    let height = height(ui).max(words.size().y + 10.0);
    let rect = Rect::from_min_max(kiss3d::egui::pos2(inner.left(), inner.bottom() - height), inner.max);
    ui.painter().rect_filled(rect, 0.0, palette::PANEL.egui());
    ui.painter().hline(rect.x_range(), rect.top(), kiss3d::egui::Stroke::new(1.0, palette::EDGE.egui()));
    let mut below = ui.new_child(UiBuilder::new().max_rect(rect.translate(vec2(0.0, 4.0))));
    below.set_clip_rect(panel);
    below.add(Label::new(RichText::new(hint).small()).wrap());
}
