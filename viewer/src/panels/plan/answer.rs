//! The answer in words, with the buttons that apply it and take it back; and its tables.

use kiss3d::egui::{Button, Grid, RichText, Ui};
use sim_core::plan::{Balanced, Disclosed, RequiredInclines, Role};
use sim_core::scene::GoalAnswer;

use super::{heads, title};
use crate::action::Action;
use crate::palette;
use crate::panels::Found;
use crate::panels::readings::mm;
use crate::state::State;

pub(super) fn show(ui: &mut Ui, state: &State, found: &mut Found) {
    let planning = &state.planning;
    match planning.answered.as_ref().map(|answered| &answered.goal) {
        Some(Ok(Some(answer))) => {
            let tint = if answer.is_met() { palette::INK } else { palette::INTERFERENCE };
            ui.label(RichText::new(words::verdict::plan::answer(answer)).small().strong().color(tint.egui()));
            for change in answer.changes() {
                ui.label(RichText::new(words::verdict::plan::change(change)).small());
            }
        }
        Some(Ok(None)) => {
            ui.label(
                RichText::new("No goal is chosen: what the cusps need on these settings is told.").small(),
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
            Some((answer, _)) if !answer.is_met() => "Apply the nearest",
            _ => "Apply",
        };
        let apply = ui
            .add_enabled(answer.is_some(), Button::new(words))
            .on_hover_text("The settings become the planned ones");
        found.note("apply_plan", &apply);
        if apply.clicked() {
            found.actions.push(Action::ApplyPlan);
        }
        let back = ui
            .add_enabled(!planning.before.is_empty(), Button::new("Take back"))
            .on_hover_text("The settings become what they were before the plan was applied");
        found.note("take_plan_back", &back);
        if back.clicked() {
            found.actions.push(Action::TakePlanBack);
        }
        if planning.rested.is_some() {
            ui.label(RichText::new("being renewed …").small().color(palette::ACTIVE.egui()));
        }
    });
}

pub(super) fn tables(ui: &mut Ui, state: &State) {
    let Some(answered) = &state.planning.answered else { return };
    match &answered.goal {
        Ok(Some(GoalAnswer::Disclosed(found))) => reached(ui, found),
        Ok(Some(GoalAnswer::Balanced(found))) => balanced(ui, found),
        Ok(None) | Err(_) => {}
    }
    match &answered.inclines {
        Ok(inclines) => needed(ui, inclines),
        Err(error) => {
            ui.label(RichText::new(error.to_string()).small().color(palette::INTERFERENCE.egui()));
        }
    }
}

fn reached(ui: &mut Ui, found: &Disclosed) {
    title(ui, "Clearances reached, mm");
    Grid::new("reached").num_columns(5).spacing([8.0, 2.0]).striped(true).show(ui, |ui| {
        heads(ui, &["cusp", "excursion", "now", "planned", "at most"]);
        for (number, own) in found.reached.iter().enumerate() {
            ui.label(RichText::new(format!("{} {}", own.tooth, own.name)).small());
            ui.label(RichText::new(own.role.name()).small());
            ui.label(mm(own.before.mm()));
            let planned = RichText::new(mm(own.reached.mm()));
            let planned = if found.in_the_way == Some(number) {
                planned.strong().color(palette::INTERFERENCE.egui())
            } else {
                planned
            };
            ui.label(planned);
            ui.label(mm(own.reach.1.mm()));
            ui.end_row();
        }
    });
}

fn balanced(ui: &mut Ui, found: &Balanced) {
    title(ui, "Each factor alone");
    Grid::new("alone").num_columns(4).spacing([10.0, 2.0]).striped(true).show(ui, |ui| {
        heads(ui, &["", "now", "would be", "leaves, mm"]);
        for own in &found.alone {
            ui.label(RichText::new(own.change.factor.label()).small());
            ui.label(degrees(own.change.from.degrees()));
            ui.label(degrees(own.change.to.degrees()));
            ui.label(if own.met { "balanced".to_owned() } else { mm(own.greatest.mm()) });
            ui.end_row();
        }
    });
    title(ui, "Gaps as planned, mm");
    Grid::new("gaps").num_columns(4).spacing([12.0, 2.0]).striped(true).show(ui, |ui| {
        heads(ui, &["tooth", "protrusive", "working", "orbiting"]);
        let mut teeth: Vec<_> = found.gaps.iter().map(|gap| gap.tooth).collect();
        teeth.sort_by_key(|tooth| tooth.number());
        teeth.dedup();
        for tooth in teeth {
            ui.label(tooth.to_string());
            for role in Role::ALL {
                let gap = found.gaps.iter().find(|gap| gap.tooth == tooth && gap.role == role);
                ui.label(gap.map_or_else(|| "–".to_owned(), |gap| mm(gap.gap.mm())));
            }
            ui.end_row();
        }
    });
}

fn needed(ui: &mut Ui, inclines: &[RequiredInclines]) {
    if inclines.is_empty() {
        return;
    }
    title(ui, "Inclines that glide in contact, now");
    Grid::new("inclines").num_columns(4).spacing([12.0, 2.0]).striped(true).show(ui, |ui| {
        heads(ui, &["cusp", "protrusive", "working", "orbiting"]);
        for own in inclines {
            let name = own.place.name.as_deref().unwrap_or_default();
            ui.label(RichText::new(format!("{} {name}", own.place.tooth)).small());
            for role in Role::ALL {
                ui.label(degrees(own.glide(role).tangent.along_way.degrees()));
            }
            ui.end_row();
        }
    });
    ui.label(RichText::new("of the path where it starts, to the occlusal plane").small());
}

/// An angle in degrees, with a real minus.
fn degrees(number: f64) -> String {
    let size = format!("{:.1}", number.abs());
    if number < 0.0 && size != "0.0" { format!("−{size}°") } else { format!("{size}°") }
}
