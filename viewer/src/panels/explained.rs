//! A number that can be clicked, to be told why it is what it is.

use kiss3d::egui::{Button, RichText, Ui};
use sim_core::account::Number;

use super::output::PanelOutput;
use crate::action::Action;

/// Shows a number as a button without a frame, until the mouse or the keyboard is on it.
pub(super) fn explained(ui: &mut Ui, words: impl Into<RichText>, number: Number, output: &mut PanelOutput) {
    let words: RichText = words.into();
    let button = ui.add(Button::new(words).small().frame_when_inactive(false));
    let name = match number.cusp() {
        Some(cusp) => format!("why={}:{cusp}", number.name()),
        None => format!("why={}", number.name()),
    };
    output.note(name, &button);
    output.explain(&button, "Click: why this number? (I)");
    if button.clicked() {
        output.actions.push(Action::Explain(number));
    }
}
