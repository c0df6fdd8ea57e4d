//! What the panels of the bench share.

use kiss3d::egui::{Button, Response, RichText, Ui};

use super::super::output::PanelOutput;
use crate::action::Action;
use crate::bench::{BenchAct, OnBench};
use crate::palette;

/// A button that does something at the bench.
pub(super) fn press(
    ui: &mut Ui,
    output: &mut PanelOutput,
    name: &str,
    words: &str,
    act: BenchAct,
) -> Response {
    push(ui, output, name, words, Action::Bench(act))
}

/// A button that does something.
pub(super) fn push(
    ui: &mut Ui,
    output: &mut PanelOutput,
    name: &str,
    words: &str,
    action: Action,
) -> Response {
    let button = ui.button(words);
    output.note(name, &button);
    if button.clicked() {
        output.actions.push(action);
    }
    button
}

/// A small button of several, one of which is pressed.
pub(super) fn choice(
    ui: &mut Ui,
    output: &mut PanelOutput,
    name: &str,
    words: &str,
    pressed: bool,
    action: Action,
) {
    let button = ui.add(Button::new(RichText::new(words).small()).selected(pressed));
    output.note(name, &button);
    if button.clicked() && !pressed {
        output.actions.push(action);
    }
}

/// Small words in grey.
pub(super) fn small(ui: &mut Ui, words: impl Into<String>) {
    ui.label(RichText::new(words).small().color(palette::PENCIL.egui()));
}

/// A sentence that warns.
pub(super) fn warn(ui: &mut Ui, words: impl Into<String>) {
    ui.label(RichText::new(words).color(palette::INTERFERENCE.egui()));
}

/// What a record is called on its button.
pub(super) fn record_name(bench: &OnBench, record: usize) -> String {
    let kind = bench.kind(record).map_or("", |kind| match kind {
        sim_core::record::RecordKind::Centric => "centric",
        sim_core::record::RecordKind::Protrusive => "protrusive",
        sim_core::record::RecordKind::RightLateral => "right lateral",
        sim_core::record::RecordKind::LeftLateral => "left lateral",
    });
    format!("{} {kind}", record + 1)
}
