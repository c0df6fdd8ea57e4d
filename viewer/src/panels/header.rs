//! The line with the title and the file, and the line with the caution.

use std::path::{Path, PathBuf};

use kiss3d::egui::{Align, Button, Label, Layout, RichText, TextWrapMode, Ui};

use super::output::PanelOutput;
use super::style;
use crate::action::Action;
use crate::page::Room;
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
        let there = match state.room {
            Room::Instrument => "Bench (Y)",
            Room::Bench => "Instrument (Y)",
        };
        press(ui, "room", there, true, Action::SwapRoom);
        let (file, title) = named(state);
        if file.is_some() {
            // A browser keeps F5 for the page itself.
            let words = if state.place.is_page() { "Read again" } else { "Reload (F5)" };
            press(ui, "reload", words, true, Action::Reload);
        }
        press(ui, "write", "Write (Ctrl+E)", true, Action::AskWhatToWrite);
        if state.place.is_page() && state.room == Room::Instrument {
            press(ui, "send", "Link", true, Action::Send);
        }
        press(ui, "save", "Save (Ctrl+S)", true, Action::AskWhereToSave);
        press(ui, "open", "Open (Ctrl+O)", true, Action::AskWhatToOpen);
        let (before, after) = state.history.depth();
        press(ui, "redo", "Redo", after > 0, Action::Redo);
        press(ui, "undo", "Undo (Ctrl+Z)", before > 0, Action::Undo);
        let file = file.map_or_else(
            || nothing_opened(state).to_owned(),
            |file| words::quoted::path(Path::new(file.file_name().unwrap_or(file.as_os_str()))),
        );
        let is_changed = state.room == Room::Instrument && state.is_changed();
        let changed = if is_changed { " (changed)" } else { "" };
        if ui.available_width() > ROOM_FOR_FILE * style::scale(ui.ctx()) {
            ui.label(RichText::new(file + changed).small().color(palette::PENCIL.egui()));
        }
        ui.with_layout(Layout::left_to_right(Align::Center), |ui| {
            ui.add(
                Label::new(RichText::new(words::quoted::escaped(title)).heading().strong())
                    .wrap_mode(TextWrapMode::Truncate),
            );
        });
    });
}

/// The file shown here, and the title of what it holds.
fn named(state: &State) -> (Option<&PathBuf>, &str) {
    match (state.room, &state.bench) {
        (Room::Instrument, _) => (state.file.as_ref(), &state.scene.title),
        (Room::Bench, Some(bench)) => (bench.file.as_ref(), &bench.worked.case.title),
        (Room::Bench, None) => (None, "Bench"),
    }
}

const fn nothing_opened(state: &State) -> &'static str {
    match (state.room, &state.bench) {
        (Room::Instrument, _) => "no file of its own; drop a scene or case file here to open one",
        (Room::Bench, Some(_)) => "dealt for practice, invented",
        (Room::Bench, None) => "drop a case file here to open one",
    }
}

pub(super) fn caution(ui: &mut Ui) {
    ui.vertical_centered(|ui| {
        ui.add(
            Label::new(RichText::new(words::CAUTION).small().color(palette::PENCIL.egui()))
                .wrap_mode(TextWrapMode::Truncate),
        );
    });
}
