//! What is to be reached.

use kiss3d::egui::{ComboBox, Grid, RichText, Ui};
use sim_core::cusp::{Cusp, Tooth};
use sim_core::plan::{Balance, Clearances, Meeting, Role, Wanted};

use super::fields::{members, number, switch};
use crate::panels::output::PanelOutput;
use crate::panels::text::{heads, title};
use crate::planning::first_wanted;
use crate::state::State;

/// Width of the fields for a cusp and for an excursion.
const CUSP: f32 = 96.0;
const EXCURSION: f32 = 104.0;

/// Back teeth, the patient's right first.
const UPPER: [i64; 8] = [17, 16, 15, 14, 24, 25, 26, 27];
const LOWER: [i64; 8] = [47, 46, 45, 44, 34, 35, 36, 37];

/// Clearances wanted, one a line.
pub(super) fn clearances(ui: &mut Ui, goal: &mut Clearances, state: &State, output: &mut PanelOutput) {
    title(ui, "Clearances wanted, mm");
    ui.horizontal(|ui| {
        for (by, words) in [(Meeting::AtLeast, "at least"), (Meeting::LeastSquares, "least squares")] {
            if switch(ui, words, goal.by == by, format!("by={words}"), output) {
                goal.by = by;
            }
        }
    });
    let cusps = &state.scene.cusps;
    let mut gone = None;
    Grid::new("wanted").num_columns(5).spacing([6.0, 3.0]).show(ui, |ui| {
        heads(ui, &["cusp", "excursion", "advance", "clearance", ""]);
        for (line, wanted) in goal.clearances.iter_mut().enumerate() {
            cusp(ui, wanted, cusps, line, output);
            excursion(ui, wanted, line, output);
            let name = format!("wanted_advance={line}");
            number(ui, &mut wanted.advance, &Wanted::ADVANCE.facts, name, output);
            let name = format!("wanted_clearance={line}");
            number(ui, &mut wanted.clearance, &Wanted::CLEARANCE.facts, name, output);
            let remove = ui.small_button("×").on_hover_text("Remove this clearance");
            output.note(format!("wanted_remove={line}"), &remove);
            if remove.clicked() {
                gone = Some(line);
            }
            ui.end_row();
        }
    });
    if let Some(line) = gone {
        goal.clearances.remove(line);
    }
    let add = ui.small_button("Add a clearance");
    output.note("wanted_add", &add);
    if add.clicked() {
        // Like the last one, so that a few turns of its fields make the next.
        let next = goal.clearances.last().cloned();
        goal.clearances.extend(next.or_else(|| cusps.first().map(|cusp| first_wanted(cusp.tooth()))));
    }
}

fn cusp(ui: &mut Ui, wanted: &mut Wanted, cusps: &[Cusp], line: usize, output: &mut PanelOutput) {
    let words = |tooth: Tooth, name: Option<&str>| format!("{tooth} {}", name.unwrap_or("all"));
    let chosen = ComboBox::from_id_salt(("wanted_cusp", line))
        .selected_text(words(wanted.tooth, wanted.name.as_deref()))
        .width(CUSP)
        .truncate()
        .show_ui(ui, |ui| {
            for (number, cusp) in cusps.iter().enumerate() {
                let tooth = cusp.tooth();
                if cusps[..number].iter().all(|before| before.tooth() != tooth) {
                    let is_now = wanted.tooth == tooth && wanted.name.is_none();
                    if ui.selectable_label(is_now, words(tooth, None)).clicked() {
                        (wanted.tooth, wanted.name) = (tooth, None);
                    }
                }
                let is_now = wanted.tooth == tooth && wanted.name.as_deref() == Some(cusp.name());
                if ui.selectable_label(is_now, words(tooth, Some(cusp.name()))).clicked() {
                    (wanted.tooth, wanted.name) = (tooth, Some(cusp.name().to_owned()));
                }
            }
        });
    output.note(format!("wanted_cusp={line}"), &chosen.response);
}

fn excursion(ui: &mut Ui, wanted: &mut Wanted, line: usize, output: &mut PanelOutput) {
    let chosen = ComboBox::from_id_salt(("wanted_excursion", line))
        .selected_text(wanted.excursion.name())
        .width(EXCURSION)
        .truncate()
        .show_ui(ui, |ui| {
            for role in Role::ALL {
                ui.selectable_value(&mut wanted.excursion, role, role.name());
            }
        });
    output.note(format!("wanted_excursion={line}"), &chosen.response);
}

/// Contact wanted everywhere, or at some teeth in some excursions.
pub(super) fn balance(ui: &mut Ui, goal: &mut Balance, output: &mut PanelOutput) {
    title(ui, "Contact wanted");
    ui.horizontal(|ui| {
        ui.label(RichText::new("at an advance (mm) of").small());
        number(ui, &mut goal.advance, &Balance::ADVANCE.facts, "balance_advance".to_owned(), output);
        ui.label(RichText::new("cusp inclination").small());
        let name = "cusp_inclination".to_owned();
        number(ui, &mut goal.cusp_inclination, &Balance::CUSP_INCLINATION.facts, name, output);
    });
    ui.horizontal(|ui| {
        ui.label(RichText::new("in").small());
        let roles = Role::ALL.map(|role| (role, role.name().to_owned()));
        members(ui, &mut goal.excursions, roles, "balance_in", output);
        if goal.excursions.is_empty() {
            ui.label(RichText::new("(if none is chosen: in all)").small());
        }
    });
    for row in [UPPER, LOWER] {
        ui.horizontal(|ui| {
            let teeth = row.into_iter().filter_map(|number| Tooth::new(number).ok());
            members(ui, &mut goal.teeth, teeth.map(|tooth| (tooth, tooth.to_string())), "balance_at", output);
        });
    }
    if goal.teeth.is_empty() {
        ui.label(RichText::new("If no tooth is chosen: at all lower back teeth").small());
    }
}
