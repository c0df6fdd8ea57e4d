//! The plan's page: what is to be reached, what may be changed for it, and the answer.

mod answer;
mod fields;
mod free;
mod wanted;

use kiss3d::egui::{Button, RichText, ScrollArea, Ui};

use super::Found;
use crate::action::Action;
use crate::palette;
use crate::planning::GoalKind;
use crate::state::State;

pub(super) fn show(ui: &mut Ui, state: &State, found: &mut Found) {
    let mut draft = state.planning.draft.clone();
    ui.horizontal(|ui| {
        ui.label(RichText::new("goal").small());
        for kind in GoalKind::ALL {
            let button = ui.add(Button::new(kind.label()).selected(draft.kind == kind));
            found.note(format!("goal={}", kind.label()), &button);
            if button.clicked() {
                draft.kind = kind;
            }
        }
    });
    // The answer stays in sight, however long the goal is.
    answer::show(ui, state, found);
    ui.separator();
    ScrollArea::vertical().id_salt("plan").auto_shrink(false).show(ui, |ui| {
        ui.set_width(ui.available_width() - 10.0);
        match draft.kind {
            GoalKind::None => {}
            GoalKind::Disclusion => wanted::clearances(ui, &mut draft.clearances, state, found),
            GoalKind::Balance => wanted::balance(ui, &mut draft.balance, found),
        }
        free::show(ui, &mut draft, found);
        answer::tables(ui, state);
    });
    if draft != state.planning.draft {
        found.actions.push(Action::Goal(Box::new(draft)));
    }
}

fn title(ui: &mut Ui, words: &str) {
    ui.add_space(4.0);
    ui.label(RichText::new(words).strong().color(palette::ACTIVE.egui()));
}

/// The heads of a table's columns.
fn heads(ui: &mut Ui, words: &[&str]) {
    for head in words {
        ui.label(RichText::new(*head).small().color(palette::PENCIL.egui()));
    }
    ui.end_row();
}
