//! How the panels look: paper, ink and one accent.

use kiss3d::egui::{
    Color32, Context, CornerRadius, FontDefinitions, FontId, Id, LayerId, Order, Stroke, StrokeKind,
    TextStyle, Theme, Visuals, vec2,
};

use crate::appearance::Appearance;
pub use crate::drawing::type_size::scale;
use crate::drawing::type_size::scale_id;
use crate::palette::{self, Tint};

/// Sizes of text in points.
const BODY: f32 = 14.0;
const SMALL: f32 = 12.5;
const HEADING: f32 = 17.0;

/// What is behind the instrument.
#[must_use]
pub const fn paper(appearance: Appearance) -> Tint {
    if appearance.high_contrast { palette::WHITE } else { palette::PAPER }
}

/// Sets what stays as it is for as long as the window is open.
pub fn prepare(ctx: &Context) {
    ctx.set_theme(Theme::Light);
    // The graphics crate puts a face of its own before the default ones, which lacks signs used here.
    ctx.set_fonts(FontDefinitions::default());
    // A button that is let go is pushed, however long it was held: where a picture takes a second, a quick push
    // begins in one frame and ends in the next.
    ctx.options_mut(|options| options.input_options.max_click_duration = f64::INFINITY);
}

/// Sets the look, where it has changed.
pub fn set(ctx: &Context, appearance: Appearance) {
    let id = Id::new("appearance");
    let look = (appearance.text_scale, appearance.high_contrast);
    if ctx.data(|data| data.get_temp::<(f32, bool)>(id)) == Some(look) {
        return;
    }
    ctx.data_mut(|data| {
        data.insert_temp(id, look);
        data.insert_temp(scale_id(), appearance.text_scale);
    });
    ctx.set_visuals_of(Theme::Light, visuals(appearance.high_contrast));
    let scale = appearance.text_scale;
    ctx.all_styles_mut(|style| {
        style.text_styles = [
            (TextStyle::Heading, FontId::proportional(HEADING * scale)),
            (TextStyle::Body, FontId::proportional(BODY * scale)),
            (TextStyle::Button, FontId::proportional(BODY * scale)),
            (TextStyle::Monospace, FontId::monospace(BODY * scale)),
            (TextStyle::Small, FontId::proportional(SMALL * scale)),
        ]
        .into();
        let spacing = &mut style.spacing;
        spacing.item_spacing = vec2(6.0, 4.0) * scale;
        spacing.button_padding = vec2(6.0, 2.0) * scale;
        spacing.interact_size = vec2(40.0, 18.0) * scale;
        spacing.icon_width = 14.0 * scale;
        spacing.icon_width_inner = 8.0 * scale;
        spacing.slider_rail_height = 5.0 * scale;
        style.animation_time = 0.0;
    });
}

fn visuals(high_contrast: bool) -> Visuals {
    let mut visuals = Visuals::light();
    let (accent, panel, ink, edge) = if high_contrast {
        (palette::DEEP.egui(), palette::WHITE.egui(), palette::BLACK.egui(), palette::BLACK.egui())
    } else {
        (palette::ACTIVE.egui(), palette::PANEL.egui(), palette::INK.egui(), palette::EDGE.egui())
    };
    visuals.panel_fill = panel;
    visuals.window_fill = panel;
    visuals.extreme_bg_color = Color32::WHITE;
    visuals.override_text_color = None;
    visuals.selection.bg_fill = accent;
    visuals.selection.stroke = Stroke::new(1.0, Color32::WHITE);
    visuals.slider_trailing_fill = true;
    // A cursor that blinks would draw the window anew twice a second.
    visuals.text_cursor.blink = false;
    let widgets = &mut visuals.widgets;
    let button = if high_contrast { Color32::WHITE } else { Color32::from_rgb(0xE6, 0xE4, 0xDC) };
    for (widget, fill, edge) in [
        (&mut widgets.noninteractive, panel, edge),
        (&mut widgets.inactive, button, edge),
        (&mut widgets.hovered, Color32::from_rgb(0xD9, 0xE4, 0xEC), accent),
        (&mut widgets.active, Color32::from_rgb(0xC2, 0xD8, 0xE6), accent),
        (&mut widgets.open, button, accent),
    ] {
        widget.bg_fill = fill;
        widget.weak_bg_fill = fill;
        widget.bg_stroke = Stroke::new(1.0, edge);
        widget.fg_stroke = Stroke::new(1.2, ink);
        widget.corner_radius = CornerRadius::same(3);
        widget.expansion = 0.0;
    }
    visuals.widgets.hovered.bg_stroke.width = 1.5;
    visuals.widgets.active.bg_stroke.width = 2.0;
    visuals
}

/// Draws a ring round whatever the keyboard is on: buttons that are pressed and handles of sliders show it
/// too little by themselves.
pub fn ring_the_focus(ctx: &Context) {
    let focused = ctx.memory(|memory| memory.focused());
    let Some(response) = focused.and_then(|id| ctx.read_response(id)) else { return };
    let painter = ctx.layer_painter(LayerId::new(Order::Foreground, Id::new("focus")));
    let ring = response.rect.expand(2.0);
    painter.rect_stroke(ring, 4.0, Stroke::new(4.0, Color32::WHITE), StrokeKind::Outside);
    painter.rect_stroke(ring.expand(1.0), 4.0, Stroke::new(2.5, palette::FOCUS.egui()), StrokeKind::Outside);
}

#[cfg(test)]
mod tests {
    use super::*;
    use kiss3d::egui::{Event, Modifiers, PointerButton, RawInput, Rect, pos2};

    #[test]
    fn a_push_that_takes_two_slow_frames_is_a_push() {
        let ctx = Context::default();
        prepare(&ctx);
        let mut place = pos2(0.0, 0.0);
        let mut frame = |time: f64, pressed: Option<bool>| {
            let events = pressed.into_iter().flat_map(|pressed| {
                let (pos, button, modifiers) = (place, PointerButton::Primary, Modifiers::NONE);
                [Event::PointerMoved(pos), Event::PointerButton { pos, button, pressed, modifiers }]
            });
            let input = RawInput {
                screen_rect: Some(Rect::from_min_size(pos2(0.0, 0.0), vec2(300.0, 100.0))),
                time: Some(time),
                events: events.collect(),
                ..RawInput::default()
            };
            let mut pushed = false;
            let mut output = ctx.run_ui(input, |ui| {
                let button = ui.button("Save");
                place = button.rect.center();
                pushed = button.clicked();
            });
            // Nobody draws the faces.
            output.textures_delta.clear();
            pushed
        };
        assert!(!frame(0.0, None) && !frame(1.0, Some(true)));
        assert!(frame(3.5, Some(false)));
    }
}
