//! The page of lessons: the list, a lesson's step, a question of a viva.

mod list;
mod over;
mod press;
mod question;
mod step;
mod viva;

use kiss3d::egui::Ui;

use super::output::PanelOutput;
use crate::state::State;
use crate::teaching::Course;

pub(super) fn show(ui: &mut Ui, state: &State, output: &mut PanelOutput) {
    match &state.teaching.course {
        None => list::show(ui, state, output),
        Some(Course::Lesson(given)) if given.step().is_none() => over::show(ui, given, output),
        Some(Course::Lesson(given)) => step::show(ui, state, given, output),
        Some(Course::Viva(examined)) => viva::show(ui, state, examined, output),
    }
}
