//! The line with the title and the file, and the line with the caution.

use kiss3d::egui::{Align, Button, Label, Layout, RichText, TextWrapMode, Ui};

use super::output::PanelOutput;
use super::style;
use crate::action::Action;
use crate::palette;
use crate::state::State;

/// Width that the title keeps beside the file's name, at the usual size of words.
const ROOM_FOR_FILE: f32 = 330.0;

pub(super) fn show(ui: &mut Ui, state: &State, output: &mut PanelOutput) {
    ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
        let help = ui.add(Button::new("Help (H)").selected(state.help));
        output.note("help", &help);
        if help.clicked() {
            output.actions.push(Action::Help);
        }
        let mut press = |ui: &mut Ui, name: &str, words: &str, is_possible: bool, action: Action| {
            let button = ui.add_enabled(is_possible, Button::new(words));
            output.note(name, &button);
            if button.clicked() {
                output.actions.push(action);
            }
        };
        if state.file.is_some() {
            press(ui, "reload", "Reload (F5)", true, Action::Reload);
        }
        press(ui, "save", "Save (Ctrl+S)", true, Action::AskWhereToSave);
        press(ui, "open", "Open (Ctrl+O)", true, Action::AskWhatToOpen);
        let (before, after) = state.history.depth();
        press(ui, "redo", "Redo", after > 0, Action::Redo);
        press(ui, "undo", "Undo (Ctrl+Z)", before > 0, Action::Undo);
        let file = state.file.as_ref().map_or_else(
            || "built-in scene".to_owned(),
            |file| file.file_name().unwrap_or(file.as_os_str()).to_string_lossy().into_owned(),
        );
        let changed = if state.scene == state.as_read { "" } else { " (changed)" };
        if ui.available_width() > ROOM_FOR_FILE * style::scale(ui.ctx()) {
            ui.label(RichText::new(file + changed).small().color(palette::PENCIL.egui()));
        }
        ui.with_layout(Layout::left_to_right(Align::Center), |ui| {
            ui.add(
                Label::new(RichText::new(&state.scene.title).heading().strong())
                    .wrap_mode(TextWrapMode::Truncate),
            );
        });
    });
}

pub(super) fn caution(ui: &mut Ui) {
    ui.vertical_centered(|ui| {
        ui.add(
            Label::new(RichText::new(words::CAUTION).small().color(palette::PENCIL.egui()))
                .wrap_mode(TextWrapMode::Truncate),
        );
    });
}
