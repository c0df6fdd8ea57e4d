//! The casts' page: a section, where they come nearest, and what film prints.

use kiss3d::egui::{Grid, RichText, ScrollArea, Ui};
use sim_core::cast::{Mark, Nearest};
use sim_core::cusp::Tooth;
use words::number::{three_decimals, two_decimals};

use super::instrument::instrument;
use super::output::PanelOutput;
use super::section;
use super::text::heads;
use crate::casts::Mounted;
use crate::palette;
use crate::state::State;

/// Share of the panel's height that the section takes.
const SECTION_SHARE: f32 = 0.42;

pub(super) fn show(ui: &mut Ui, state: &State, mounted: &Mounted, output: &mut PanelOutput) {
    let height = ui.available_height() * SECTION_SHARE;
    section::show(ui, state, mounted, height, output);
    ui.separator();
    ScrollArea::vertical().id_salt("contacts").auto_shrink(false).show(ui, |ui| {
        // The note over the picture may have been dismissed.
        if !mounted.notes.misplaced.is_empty() {
            let said = "These casts hardly stand where they belong: nothing read here is the patient’s.";
            ui.label(RichText::new(said).strong().color(palette::INTERFERENCE.egui()));
        }
        nearest(ui, state);
        print(ui, state);
        ui.separator();
        instrument(ui, state, output);
    });
}

/// Where the casts come nearest, overall.
fn nearest(ui: &mut Ui, state: &State) {
    let Some(reading) = state.readout.as_ref().and_then(|readout| readout.nearest.as_ref()) else { return };
    Grid::new("nearest").num_columns(3).spacing([12.0, 3.0]).show(ui, |ui| {
        heads(ui, &["both casts", "mm", "between"]);
        for (words, nearest) in
            [("least vertical gap", reading.vertical), ("least distance", Some(reading.distance))]
        {
            ui.label(words);
            match nearest {
                Some(nearest) => {
                    ui.label(two_decimals(nearest.gap.mm()));
                    ui.label(pair(&nearest));
                }
                None => {
                    ui.label("–");
                }
            }
            ui.end_row();
        }
    });
}

fn pair(nearest: &Nearest) -> String {
    let tooth = |tooth: Option<Tooth>| tooth.map_or_else(|| "gingiva".to_owned(), |tooth| tooth.to_string());
    format!("{} and {}", tooth(nearest.upper_tooth), tooth(nearest.lower_tooth))
}

/// What film prints on each tooth.
fn print(ui: &mut Ui, state: &State) {
    let Some(print) = state.readout.as_ref().and_then(|readout| readout.print.as_ref()) else {
        ui.label(RichText::new("Choose “film” over the picture to see where the teeth touch.").small());
        return;
    };
    let um = print.film.mm() * 1000.0;
    ui.add_space(4.0);
    ui.label(RichText::new(format!("marks of {um:.0} µm film")).strong().color(palette::ACTIVE.egui()));
    if let Err(why) = &print.marks {
        let said = words::verdict::unmarked::sentence(*why);
        ui.label(RichText::new(said).strong().color(palette::INTERFERENCE.egui()));
        return;
    }
    let teeth = Mark::by_tooth(print.marks());
    if teeth.is_empty() {
        ui.label("no marks");
        return;
    }
    Grid::new("print").num_columns(4).spacing([14.0, 3.0]).striped(true).show(ui, |ui| {
        heads(ui, &["tooth", "marks", "area, mm²", "penetration, mm"]);
        for total in teeth {
            ui.label(total.tooth.map_or_else(|| "no tooth".to_owned(), |tooth| tooth.to_string()));
            ui.label(total.marks.to_string());
            ui.label(three_decimals(total.area_mm2));
            if total.gap.mm() < -palette::PIERCED_FROM_MM {
                let depth = two_decimals(-total.gap.mm());
                ui.label(RichText::new(format!("× {depth}")).strong().color(palette::INTERFERENCE.egui()));
            } else {
                ui.label("");
            }
            ui.end_row();
        }
    });
}
