//! The panels. They read the state and answer with what the person did; they change nothing.

mod choice;
mod closeup;
mod contacts;
mod header;
mod help;
mod notes;
mod plan;
mod plot;
mod proposal;
mod readings;
mod section;
mod settings;
pub mod style;
mod transport;
mod views;

pub use views::strip_height;

use std::collections::BTreeMap;

use kiss3d::egui::{
    Align, Area, Context, Frame, Id, Layout as Flow, Margin, Order, Rect, Response, Ui, UiBuilder, vec2,
};

use crate::action::Action;
use crate::drawing;
use crate::layout::Layout;
use crate::palette;
use crate::projection::Projection;
use crate::state::State;

/// What the panels found in one frame.
#[derive(Debug, Default)]
pub struct Found {
    /// What the person did.
    pub actions: Vec<Action>,
    /// Where the controls are, in points: for the report.
    pub places: BTreeMap<String, Rect>,
    /// The control that the keyboard is on.
    pub focus: Option<String>,
    /// What the panels themselves call whatever the keyboard is on, number fields included.
    pub focus_id: Option<Id>,
}

impl Found {
    /// Notes where a control is, and brings it into sight when the keyboard reaches it.
    fn note(&mut self, name: impl Into<String>, response: &Response) {
        if response.gained_focus() {
            response.scroll_to_me(None);
        }
        let name = name.into();
        if response.has_focus() {
            self.focus = Some(name.clone());
        }
        self.places.insert(name, response.rect);
    }
}

/// Shows every panel and the marks over the picture.
pub fn show(ctx: &Context, state: &State, layout: &Layout, projection: &Projection) -> Found {
    let mut found = Found::default();
    let marks = ctx.layer_painter(kiss3d::egui::LayerId::new(Order::Background, Id::new("marks")));
    drawing::paint(&marks.with_clip_rect(layout.picture), state, projection, layout, ctx.pixels_per_point());

    part(ctx, "header", layout.header, |ui| header::show(ui, state, &mut found));
    part(ctx, "settings", layout.settings, |ui| settings::show(ui, state, &mut found));
    part(ctx, "views", layout.strip, |ui| views::show(ui, state, &mut found));
    part(ctx, "transport", layout.transport, |ui| transport::show(ui, state, &mut found));
    part(ctx, "readings", layout.readings, |ui| readings::show(ui, state, &mut found));
    part(ctx, "footer", layout.footer, header::caution);
    notes::show(ctx, state, layout.picture, &mut found);
    if let Some(proposal) = &state.proposal {
        proposal::show(ctx, proposal, layout.strip, &mut found);
    }
    if state.help {
        help::show(ctx, &mut found);
    }
    found.focus_id = ctx.memory(|memory| memory.focused());
    found
}

/// A panel that fills a rectangle, whatever its contents.
fn part(ctx: &Context, name: &str, rect: Rect, contents: impl FnOnce(&mut Ui)) {
    Area::new(Id::new(name)).order(Order::Middle).fixed_pos(rect.min).constrain(false).fade_in(false).show(
        ctx,
        |ui| {
            ui.set_min_size(rect.size());
            ui.set_max_size(rect.size());
            ui.set_clip_rect(rect);
            ui.painter().rect_filled(rect, 0.0, palette::PANEL.egui());
            ui.painter().rect_stroke(
                rect,
                0.0,
                kiss3d::egui::Stroke::new(1.0, palette::PENCIL.egui().gamma_multiply(0.35)),
                kiss3d::egui::StrokeKind::Inside,
            );
            let inner = rect.shrink2(vec2(10.0, 5.0));
            let mut inside =
                ui.new_child(UiBuilder::new().max_rect(inner).layout(Flow::top_down(Align::Min)));
            inside.set_clip_rect(rect.shrink(1.0));
            contents(&mut inside);
        },
    );
}

/// A frame for what lies over the picture.
fn card() -> Frame {
    Frame::new()
        .fill(palette::PANEL.egui())
        .stroke(kiss3d::egui::Stroke::new(1.5, palette::INK.egui()))
        .corner_radius(4)
        .inner_margin(Margin::same(10))
}
