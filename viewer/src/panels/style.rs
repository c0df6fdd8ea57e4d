//! How the panels look: paper, ink and one accent.

use kiss3d::egui::{
    Color32, Context, CornerRadius, FontDefinitions, FontId, Stroke, TextStyle, Theme, Visuals, vec2,
};

use crate::palette;

/// Sizes of text in points.
const BODY: f32 = 14.0;
const SMALL: f32 = 12.5;
const HEADING: f32 = 17.0;

/// Sets the look, once.
pub fn set(ctx: &Context) {
    ctx.set_theme(Theme::Light);
    // The graphics crate puts a face of its own before the default ones, which lacks signs used here.
    ctx.set_fonts(FontDefinitions::default());
    let mut visuals = Visuals::light();
    let accent = palette::ACTIVE.egui();
    let ink = palette::INK.egui();
    visuals.panel_fill = palette::PANEL.egui();
    visuals.window_fill = palette::PANEL.egui();
    visuals.extreme_bg_color = Color32::WHITE;
    visuals.override_text_color = None;
    visuals.selection.bg_fill = accent;
    visuals.selection.stroke = Stroke::new(1.0, Color32::WHITE);
    visuals.slider_trailing_fill = true;
    let widgets = &mut visuals.widgets;
    for (widget, fill, edge) in [
        (&mut widgets.noninteractive, palette::PANEL.egui(), palette::PENCIL.egui().gamma_multiply(0.4)),
        (
            &mut widgets.inactive,
            Color32::from_rgb(0xE6, 0xE4, 0xDC),
            palette::PENCIL.egui().gamma_multiply(0.6),
        ),
        (&mut widgets.hovered, Color32::from_rgb(0xD9, 0xE4, 0xEC), accent),
        (&mut widgets.active, Color32::from_rgb(0xC2, 0xD8, 0xE6), accent),
        (&mut widgets.open, Color32::from_rgb(0xE6, 0xE4, 0xDC), accent),
    ] {
        widget.bg_fill = fill;
        widget.weak_bg_fill = fill;
        widget.bg_stroke = Stroke::new(1.0, edge);
        widget.fg_stroke = Stroke::new(1.2, ink);
        widget.corner_radius = CornerRadius::same(3);
        widget.expansion = 0.0;
    }
    // What the keyboard is on must be seen at once.
    visuals.widgets.hovered.bg_stroke.width = 1.5;
    visuals.widgets.active.bg_stroke.width = 2.0;
    ctx.set_visuals_of(Theme::Light, visuals);
    ctx.all_styles_mut(|style| {
        style.text_styles = [
            (TextStyle::Heading, FontId::proportional(HEADING)),
            (TextStyle::Body, FontId::proportional(BODY)),
            (TextStyle::Button, FontId::proportional(BODY)),
            (TextStyle::Monospace, FontId::monospace(BODY)),
            (TextStyle::Small, FontId::proportional(SMALL)),
        ]
        .into();
        style.spacing.item_spacing = vec2(6.0, 4.0);
        style.spacing.button_padding = vec2(6.0, 2.0);
        style.animation_time = 0.0;
    });
}
