//! The answer in words, with the buttons that apply it and take it back; and its tables.

use kiss3d::egui::{Button, Grid, RichText, Ui};
use sim_core::plan::{Balanced, Disclosed, RequiredInclines, Role};
use sim_core::scene::GoalAnswer;
use sim_core::units::Unit;
use words::number::{one_decimal, two_decimals};

use crate::action::Action;
use crate::palette;
use crate::panels::output::PanelOutput;
use crate::panels::text::{heads, title};
use crate::state::State;

pub(super) fn show(ui: &mut Ui, state: &State, output: &mut PanelOutput) {
    let planning = &state.planning;
    match planning.answered.as_ref().map(|answered| &answered.goal) {
        Some(Ok(Some(answer))) => {
            let tint = if answer.is_met() { palette::INK } else { palette::INTERFERENCE };
            ui.label(RichText::new(words::verdict::plan::answer(answer)).small().strong().color(tint.egui()));
            for change in answer.changes() {
                ui.label(RichText::new(words::verdict::plan::change(change)).small());
            }
            if let Some(caution) = planning.caution() {
                let words = RichText::new(caution).small().strong();
                ui.label(words.color(palette::INTERFERENCE.egui()));
            }
        }
        Some(Ok(None)) => {
            ui.label(
                RichText::new("No goal is chosen. The table shows the inclines that these settings need.")
                    .small(),
            );
        }
        Some(Err(error)) => {
            let words = RichText::new(error.to_string()).small().strong();
            ui.label(words.color(palette::INTERFERENCE.egui()));
        }
        None => {}
    }
    ui.horizontal(|ui| {
        let answer = planning.answer(&state.scene);
        let words = match answer {
            Some((answer, _)) if !answer.is_met() => "Apply the closest",
            _ => "Apply",
        };
        let apply =
            ui.add_enabled(answer.is_some(), Button::new(words)).on_hover_text("Set the planned settings");
        output.note("apply_plan", &apply);
        if apply.clicked() {
            output.actions.push(Action::ApplyPlan);
        }
        let back = ui
            .add_enabled(!planning.before.is_empty(), Button::new("Undo"))
            .on_hover_text("Restore the settings from before the plan was applied");
        output.note("take_plan_back", &back);
        if back.clicked() {
            output.actions.push(Action::TakePlanBack);
        }
        if planning.rested.is_some() {
            ui.label(RichText::new("updating …").small().color(palette::ACTIVE.egui()));
        }
    });
}

pub(super) fn tables(ui: &mut Ui, state: &State) {
    let Some(answered) = &state.planning.answered else { return };
    match &answered.goal {
        Ok(Some(GoalAnswer::Disclosed(answer))) => reached(ui, answer),
        Ok(Some(GoalAnswer::Balanced(answer))) => balanced(ui, answer),
        Ok(None) | Err(_) => {}
    }
    match &answered.inclines {
        Ok(inclines) => needed(ui, inclines),
        Err(error) => {
            ui.label(RichText::new(error.to_string()).small().color(palette::INTERFERENCE.egui()));
        }
    }
}

fn reached(ui: &mut Ui, answer: &Disclosed) {
    title(ui, "Clearances reached, mm");
    Grid::new("reached").num_columns(5).spacing([8.0, 2.0]).striped(true).show(ui, |ui| {
        heads(ui, &["cusp", "excursion", "now", "planned", "at most"]);
        for (number, clearance) in answer.reached.iter().enumerate() {
            ui.label(RichText::new(format!("{} {}", clearance.tooth, clearance.name)).small());
            ui.label(RichText::new(clearance.role.name()).small());
            ui.label(two_decimals(clearance.before.mm()));
            let planned = RichText::new(two_decimals(clearance.reached.mm()));
            let planned = if answer.in_the_way == Some(number) {
                planned.strong().color(palette::INTERFERENCE.egui())
            } else {
                planned
            };
            ui.label(planned);
            ui.label(two_decimals(clearance.reach.1.mm()));
            ui.end_row();
        }
    });
}

fn balanced(ui: &mut Ui, answer: &Balanced) {
    title(ui, "Each factor alone");
    Grid::new("alone").num_columns(4).spacing([10.0, 2.0]).striped(true).show(ui, |ui| {
        heads(ui, &["", "now", "needed", "gap left, mm"]);
        for factor in &answer.alone {
            ui.label(RichText::new(factor.change.factor.label()).small());
            ui.label(degrees(factor.change.from.degrees()));
            ui.label(degrees(factor.change.to.degrees()));
            ui.label(if factor.met { "balanced".to_owned() } else { two_decimals(factor.greatest.mm()) });
            ui.end_row();
        }
    });
    title(ui, "Planned gaps, mm");
    Grid::new("gaps").num_columns(4).spacing([12.0, 2.0]).striped(true).show(ui, |ui| {
        heads(ui, &["tooth", "protrusive", "working", "orbiting"]);
        let mut teeth: Vec<_> = answer.gaps.iter().map(|gap| gap.tooth).collect();
        teeth.sort_by_key(|tooth| tooth.number());
        teeth.dedup();
        for tooth in teeth {
            ui.label(tooth.to_string());
            for role in Role::ALL {
                let gap = answer.gaps.iter().find(|gap| gap.tooth == tooth && gap.role == role);
                ui.label(gap.map_or_else(|| "–".to_owned(), |gap| two_decimals(gap.gap.mm())));
            }
            ui.end_row();
        }
    });
}

fn needed(ui: &mut Ui, inclines: &[RequiredInclines]) {
    if inclines.is_empty() {
        return;
    }
    title(ui, "Inclines for gliding contact (current settings)");
    Grid::new("inclines").num_columns(4).spacing([12.0, 2.0]).striped(true).show(ui, |ui| {
        heads(ui, &["cusp", "protrusive", "working", "orbiting"]);
        for needed in inclines {
            let name = needed.place.name.as_deref().unwrap_or_default();
            ui.label(RichText::new(format!("{} {name}", needed.place.tooth)).small());
            for role in Role::ALL {
                ui.label(degrees(needed.glide(role).tangent.along_way.degrees()));
            }
            ui.end_row();
        }
    });
    ui.label(RichText::new("Each angle is that of the path at its start, to the occlusal plane.").small());
}

/// An angle in degrees.
fn degrees(number: f64) -> String {
    one_decimal(number) + Unit::Degree.sign()
}
