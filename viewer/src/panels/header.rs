//! The line with the title and the file, and the line with the caution.

use kiss3d::egui::{Align, Button, Label, Layout, RichText, TextWrapMode, Ui};

use super::output::PanelOutput;
use crate::action::Action;
use crate::palette;
use crate::state::State;

pub(super) fn show(ui: &mut Ui, state: &State, output: &mut PanelOutput) {
    ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
        let help = ui.add(Button::new("Help (H)").selected(state.help));
        output.note("help", &help);
        if help.clicked() {
            output.actions.push(Action::Help);
        }
        if state.file.is_some() {
            let reload = ui.button("Reload file (F5)");
            output.note("reload", &reload);
            if reload.clicked() {
                output.actions.push(Action::Reload);
            }
        }
        let file = state.file.as_ref().map_or_else(
            || "built-in scene; drop a scene file here to open one".to_owned(),
            |file| file.file_name().unwrap_or(file.as_os_str()).to_string_lossy().into_owned(),
        );
        let changed = if state.scene == state.as_read { "" } else { " (settings changed)" };
        ui.label(RichText::new(file + changed).small().color(palette::PENCIL.egui()));
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
