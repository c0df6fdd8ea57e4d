//! Help: the keys, from the table that the window obeys.

use kiss3d::egui::{Context, Grid, RichText, ScrollArea, Ui, vec2};

use super::output::PanelOutput;
use super::text::card_window;
use crate::action::Action;
use crate::keys::{BINDINGS, Binding, PANEL_KEYS};
use crate::place::Place;

pub(super) fn show(ctx: &Context, place: Place, output: &mut PanelOutput) {
    card_window("help").show(ctx, |ui| {
        ui.horizontal(|ui| {
            ui.heading("Keys");
            let close = ui.button("Close (Esc)");
            output.note("close_help", &close);
            if close.clicked() {
                output.actions.push(Action::Dismiss);
            }
        });
        ui.separator();
        // A small projector shows a part of the keys, and the rest when it is scrolled to.
        let room = ctx.content_rect().size() - vec2(80.0, 130.0);
        ScrollArea::both().max_height(room.y).max_width(room.x).show(ui, |ui| contents(ui, place));
    });
}

fn contents(ui: &mut Ui, place: Place) {
    // A page is closed by its browser.
    let is_of_use = |binding: &&Binding| !(place.is_page() && matches!(binding.action(), Action::Quit));
    let bindings: Vec<&Binding> = BINDINGS.iter().filter(is_of_use).collect();
    let half = bindings.len().div_ceil(2);
    ui.horizontal_top(|ui| {
        for (name, bindings) in [("first", &bindings[..half]), ("second", &bindings[half..])] {
            ui.vertical(|ui| {
                Grid::new(name).num_columns(2).spacing([14.0, 3.0]).show(ui, |ui| {
                    for binding in bindings {
                        ui.label(RichText::new(binding.print()).strong());
                        ui.label(binding.words);
                        ui.end_row();
                    }
                });
            });
            ui.add_space(20.0);
        }
    });
    ui.separator();
    Grid::new("panel keys").num_columns(4).spacing([14.0, 3.0]).show(ui, |ui| {
        for pair in PANEL_KEYS.chunks(2) {
            for (keys, words) in pair {
                ui.label(RichText::new(*keys).strong());
                ui.label(*words);
            }
            ui.end_row();
        }
    });
    ui.label("Mouse on the picture: drag to turn it, drag with the right button to move it, turn the wheel to zoom, click a cast to pick a cusp. Click a number in a table to be told why it is what it is.");
    ui.label("Separation is how far a cusp has moved away from its opponent; clearance is the part of it that the opposing incline leaves free.");
    ui.label(
        "A clearance below zero is an interference: the guidance would drive the cusp through the incline.",
    );
}
