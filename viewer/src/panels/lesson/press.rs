//! A button of this page.

use kiss3d::egui::Ui;

use super::super::output::PanelOutput;
use crate::action::Action;
use crate::teaching::Teach;

/// A button that does something on this page.
pub(super) fn press(ui: &mut Ui, name: &str, words: &str, teach: Teach, output: &mut PanelOutput) {
    let button = ui.button(words);
    output.note(name, &button);
    if button.clicked() {
        output.actions.push(Action::Teach(teach));
    }
}
