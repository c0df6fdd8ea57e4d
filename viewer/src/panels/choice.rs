//! A setting chosen between words: its label and a row of buttons.

use kiss3d::egui::{Button, RichText, Ui};
use sim_core::frame::Side;
use sim_core::setting::Choice;

use super::output::PanelOutput;
use crate::action::Action;
use crate::state::State;

/// A row of buttons, one a word.
pub(super) fn row(ui: &mut Ui, state: &State, choice: Choice, side: Side, output: &mut PanelOutput) {
    let now = choice.get(&state.scene, side);
    for word in choice.words() {
        let button = ui.add(Button::new(RichText::new(spoken(word)).small()).selected(*word == now));
        let sides = if choice.is_per_side() { format!(".{side}") } else { String::new() };
        output.note(format!("{}{sides}={word}", choice.key()), &button);
        if button.clicked() && *word != now {
            output.actions.push(Action::Choose(choice, side, word));
        }
    }
    if !choice.words().contains(&now) {
        // A recorded profile comes with the file and cannot be chosen here.
        ui.label(RichText::new(spoken(now)).small().strong());
    }
}

/// `NonArcon` as it is spoken.
fn spoken(word: &str) -> String {
    match word.strip_prefix("Non") {
        Some(rest) => format!("non-{}", rest.to_lowercase()),
        None => word.to_lowercase(),
    }
}
