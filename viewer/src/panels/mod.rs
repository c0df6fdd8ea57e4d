//! The panels. They read the state and answer with what the person did; they change nothing.

mod choice;
mod closeup;
mod contacts;
mod header;
mod help;
mod instrument;
mod notes;
mod output;
mod plan;
mod plot;
mod projections;
mod proposal;
mod readings;
mod section;
mod settings;
pub mod style;
mod text;
mod transport;
mod views;

pub use output::PanelOutput;
pub use views::strip_height;

use kiss3d::egui::{Align, Area, Context, Id, Layout as Flow, Order, Rect, Ui, UiBuilder, vec2};

use crate::drawing;
use crate::layout::Layout;
use crate::palette;
use crate::projection::Projection;
use crate::state::State;

/// Shows every panel and the marks over the picture.
pub fn show(ctx: &Context, state: &State, layout: &Layout, projection: &Projection) -> PanelOutput {
    let mut output = PanelOutput::default();
    let marks = ctx.layer_painter(kiss3d::egui::LayerId::new(Order::Background, Id::new("marks")));
    drawing::paint(
        &marks.with_clip_rect(layout.picture.intersect(layout.instrument.union(layout.legend))),
        state,
        projection,
        layout,
        ctx.pixels_per_point(),
    );

    part(ctx, "header", layout.header, |ui| header::show(ui, state, &mut output));
    part(ctx, "settings", layout.settings, |ui| settings::show(ui, state, &mut output));
    projections::show(ctx, state, layout, &mut output);
    part(ctx, "views", layout.strip, |ui| views::show(ui, state, &mut output));
    part(ctx, "transport", layout.transport, |ui| transport::show(ui, state, &mut output));
    part(ctx, "readings", layout.readings, |ui| readings::show(ui, state, &mut output));
    part(ctx, "footer", layout.footer, header::caution);
    notes::show(ctx, state, layout.picture, &mut output);
    if let Some(proposal) = &state.proposal {
        proposal::show(ctx, proposal, layout.strip, &mut output);
    }
    if state.help {
        help::show(ctx, &mut output);
    }
    output.focus_id = ctx.memory(|memory| memory.focused());
    output
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
