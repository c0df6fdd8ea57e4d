//! The bench: the guides' dials on the left, the split in the middle, its gaps and the order of the work on the
//! right, the records below.

mod answer;
mod dials;
mod gaps;
mod looks;
mod marks;
mod order;
mod records;
mod way_out;

pub(super) use dials::show as dials;
pub(super) use looks::{show as looks, words as looks_words};
pub(super) use records::{show as records, words as record_words};

use kiss3d::egui::{Button, Response, RichText, ScrollArea, Ui};

use super::output::PanelOutput;
use crate::action::Action;
use crate::bench::{BenchAct, OnBench};
use crate::palette;
use crate::state::State;

/// The panel on the right.
pub(super) fn readings(ui: &mut Ui, state: &State, output: &mut PanelOutput) {
    ScrollArea::vertical().id_salt("bench").auto_shrink(false).show(ui, |ui| {
        ui.set_width(ui.available_width() - 10.0);
        let Some(bench) = &state.bench else {
            empty(ui);
            return;
        };
        gaps::show(ui, bench);
        order::show(ui, bench, output);
        if let Some(patient) = &bench.patient {
            match &patient.mark {
                Some(mark) => marks::show(ui, mark),
                None => answer::show(ui, bench, patient, output),
            }
        }
        way_out::show(ui, bench, output);
        ui.add_space(6.0);
    });
}

fn empty(ui: &mut Ui) {
    ui.heading("No case on the bench");
    ui.label(
        "Drop a case file here, or open one by the command line: its records come to lie on the bench, and the split is \
         closed on them by turning the guides. Or let a patient be dealt, on the left.",
    );
}

/// A button that does something at the bench.
fn press(ui: &mut Ui, output: &mut PanelOutput, name: &str, words: &str, act: BenchAct) -> Response {
    push(ui, output, name, words, Action::Bench(act))
}

/// A button that does something.
fn push(ui: &mut Ui, output: &mut PanelOutput, name: &str, words: &str, action: Action) -> Response {
    let button = ui.button(words);
    output.note(name, &button);
    if button.clicked() {
        output.actions.push(action);
    }
    button
}

/// A small button of several, one of which is pressed.
fn choice(ui: &mut Ui, output: &mut PanelOutput, name: &str, words: &str, pressed: bool, action: Action) {
    let button = ui.add(Button::new(RichText::new(words).small()).selected(pressed));
    output.note(name, &button);
    if button.clicked() && !pressed {
        output.actions.push(action);
    }
}

/// Small words in grey.
fn small(ui: &mut Ui, words: impl Into<String>) {
    ui.label(RichText::new(words).small().color(palette::PENCIL.egui()));
}

/// A sentence that warns.
fn warn(ui: &mut Ui, words: impl Into<String>) {
    ui.label(RichText::new(words).color(palette::INTERFERENCE.egui()));
}

/// What a record is called on its button.
fn record_name(bench: &OnBench, record: usize) -> String {
    let kind = bench.kind(record).map_or("", |kind| match kind {
        sim_core::record::RecordKind::Centric => "centric",
        sim_core::record::RecordKind::Protrusive => "protrusive",
        sim_core::record::RecordKind::RightLateral => "right lateral",
        sim_core::record::RecordKind::LeftLateral => "left lateral",
    });
    format!("{} {kind}", record + 1)
}
