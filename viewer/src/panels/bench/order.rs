//! The order of the work: what is done, what was skipped, what comes next and why.

use kiss3d::egui::{Grid, Label, RichText, Ui};
use sim_core::record::RecordKind;

use super::super::output::PanelOutput;
use super::super::text::title;
use super::controls::{press, small};
use crate::action::Action;
use crate::bench::{BenchAct, OnBench, OrderLine, Standing};
use crate::palette;

pub(super) fn show(ui: &mut Ui, bench: &OnBench, output: &mut PanelOutput) {
    title(ui, "Order of the work");
    let order = bench.order();
    Grid::new("order").num_columns(2).spacing([8.0, 3.0]).show(ui, |ui| {
        for (number, line) in order.iter().enumerate() {
            let standing = RichText::new(line.standing.words()).small().strong();
            let standing = match line.standing {
                Standing::Done => standing.color(palette::ACTIVE.egui()),
                Standing::Doubtful | Standing::Skipped => standing.color(palette::INTERFERENCE.egui()),
                Standing::NotYet => standing.color(palette::PENCIL.egui()),
            };
            ui.label(standing);
            let words = ui.add(Label::new(format!("{}. {}", number + 1, line.title)).wrap());
            output.explain(&words, line.why);
            output.note(format!("order={number}"), &words);
            ui.end_row();
        }
    });
    for said in order.iter().filter(|line| line.standing == Standing::Doubtful).flat_map(|line| &line.said) {
        small(ui, said);
    }
    next(ui, &order);
    if bench.between.and_then(|record| bench.kind(record)) == Some(RecordKind::Centric) {
        ui.horizontal_wrapped(|ui| {
            ui.label("The centric record is");
            press(ui, output, "centric=confirmed", "confirmed", BenchAct::JudgeCentric(true));
            press(ui, output, "centric=not", "not confirmed", BenchAct::JudgeCentric(false));
        });
    }
    if !bench.is_asked() {
        let mut hints = bench.hints;
        let tell = ui.checkbox(&mut hints, RichText::new("tell where each guide closes").small());
        output.note("hints", &tell);
        if tell.changed() {
            output.actions.push(Action::Bench(BenchAct::Hints(hints)));
        }
    }
}

/// The first step that is not done, and its reason.
fn next(ui: &mut Ui, order: &[OrderLine]) {
    let to_do = order.iter().find(|line| matches!(line.standing, Standing::NotYet | Standing::Skipped));
    match to_do {
        Some(line) => {
            ui.label(RichText::new(format!("Next: {}.", line.title)).strong());
            small(ui, line.why);
        }
        None => {
            ui.label(RichText::new("Every step is done.").strong());
        }
    }
}
