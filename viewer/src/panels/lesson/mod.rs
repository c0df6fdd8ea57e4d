//! The page of lessons: the list, a lesson's step, a question of a viva.

mod list;
mod over;
mod question;
mod step;
mod viva;

use kiss3d::egui::Ui;

use super::output::PanelOutput;
use crate::action::Action;
use crate::state::State;
use crate::teaching::{Course, Teach};

pub(super) fn show(ui: &mut Ui, state: &State, output: &mut PanelOutput) {
    match &state.teaching.course {
        None => list::show(ui, state, output),
        Some(Course::Lesson(given)) if given.step().is_none() => over::show(ui, given, output),
        Some(Course::Lesson(given)) => step::show(ui, state, given, output),
        Some(Course::Viva(examined)) => viva::show(ui, state, examined, output),
    }
}

/// A button that does something on this page.
fn press(ui: &mut Ui, name: &str, words: &str, teach: Teach, output: &mut PanelOutput) {
    let button = ui.button(words);
    output.note(name, &button);
    if button.clicked() {
        output.actions.push(Action::Teach(teach));
    }
}
