//! The plan's page: what is to be reached, what may be changed for it, and the answer.

mod answer;
mod fields;
mod free;
mod wanted;

use kiss3d::egui::{Button, RichText, ScrollArea, Ui};

use super::output::PanelOutput;
use crate::action::Action;
use crate::planning::GoalKind;
use crate::state::State;

pub(super) fn show(ui: &mut Ui, state: &State, output: &mut PanelOutput) {
    let mut draft = state.planning.draft.clone();
    ui.horizontal(|ui| {
        ui.label(RichText::new("goal").small());
        for kind in GoalKind::ALL {
            let button = ui.add(Button::new(kind.label()).selected(draft.kind == kind));
            output.note(format!("goal={}", kind.label()), &button);
            if button.clicked() {
                draft.kind = kind;
            }
        }
    });
    // The answer stays in sight, however long the goal is.
    answer::show(ui, state, output);
    ui.separator();
    ScrollArea::vertical().id_salt("plan").auto_shrink(false).show(ui, |ui| {
        ui.set_width(ui.available_width() - 10.0);
        match draft.kind {
            GoalKind::None => {}
            GoalKind::Disclusion => wanted::clearances(ui, &mut draft.clearances, state, output),
            GoalKind::Balance => wanted::balance(ui, &mut draft.balance, output),
        }
        free::show(ui, &mut draft, output);
        answer::tables(ui, state);
    });
    if draft != state.planning.draft {
        output.actions.push(Action::Goal(Box::new(draft)));
    }
}
