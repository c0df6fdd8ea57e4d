//! Lines of text that look alike in all panels, and the frame of what lies over the picture.

use kiss3d::egui::{Align2, Frame, Id, Margin, Order, RichText, Stroke, Ui, Window, vec2};

use super::terms::on_hover;
use crate::palette;

/// The title of a part of a page.
pub(super) fn title(ui: &mut Ui, words: &str) {
    ui.add_space(4.0);
    let title = ui.label(RichText::new(words).strong().color(palette::ACTIVE.egui()));
    on_hover(title, words);
}

/// The heads of a table's columns.
pub(super) fn heads(ui: &mut Ui, words: &[&str]) {
    for head in words {
        let label = ui.label(RichText::new(*head).small().color(palette::PENCIL.egui()));
        on_hover(label, head);
    }
    ui.end_row();
}

/// A frame for what lies over the picture.
pub(super) fn card() -> Frame {
    Frame::new()
        .fill(palette::PANEL.egui())
        .stroke(Stroke::new(1.5, palette::INK.egui()))
        .corner_radius(4)
        .inner_margin(Margin::same(10))
}

/// A card in the middle of the window, over everything else.
pub(super) fn card_window(name: &str) -> Window<'_> {
    Window::new(name)
        .id(Id::new(name))
        .order(Order::Foreground)
        .anchor(Align2::CENTER_CENTER, vec2(0.0, 0.0))
        .title_bar(false)
        .resizable(false)
        .fade_in(false)
        .frame(card())
}
