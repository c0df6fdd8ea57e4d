//! The records: which one lies between the casts, and what is known of it.

use kiss3d::egui::{RichText, Ui};
use sim_core::frame::Side;
use sim_core::record::RecordFields;
use words::number::{as_given, length, two_decimals};

use super::super::output::PanelOutput;
use super::controls::{choice, record_name, small};
use crate::action::Action;
use crate::bench::{BenchAct, OnBench};
use crate::state::State;

/// The words of the buttons.
pub(crate) fn words(state: &State) -> Vec<String> {
    let mut words = vec!["between the casts".to_owned(), "nothing".to_owned()];
    if let Some(bench) = &state.bench {
        words.extend(bench.records().into_iter().map(|record| record_name(bench, record)));
    }
    words
}

pub(crate) fn show(ui: &mut Ui, state: &State, output: &mut PanelOutput) {
    let Some(bench) = &state.bench else { return };
    ui.horizontal_wrapped(|ui| {
        ui.label(RichText::new("between the casts").small());
        let mut lay = |ui: &mut Ui, name: &str, words: &str, record: Option<usize>| {
            let action = Action::Bench(BenchAct::Lay(record));
            choice(ui, output, name, words, bench.between == record, action);
        };
        lay(ui, "lay=nothing", "nothing", None);
        for record in bench.records() {
            lay(ui, &format!("lay={record}"), &record_name(bench, record), Some(record));
        }
    });
    for line in known(bench) {
        small(ui, line);
    }
}

/// What is known of the record between the casts, a line each.
fn known(bench: &OnBench) -> Vec<String> {
    let Some(record) = bench.between else {
        return vec!["Nothing lies between the casts: the split must close by itself.".to_owned()];
    };
    let mut lines = Vec::new();
    if let Some(seated) = bench.bench.seated(record) {
        let sides = Side::BOTH.map(|side| {
            let at = seated.condyle(side);
            let (ahead, drop) = (two_decimals(at.advance.mm()), two_decimals(at.drop.mm()));
            let medial = two_decimals(at.medial.mm());
            if bench.is_asked() {
                // Drop and shift over the advance are the very angles that a student is to find.
                return format!("{side} sphere {ahead} mm ahead");
            }
            format!("{side} sphere {ahead} mm ahead, {drop} mm down, {medial} mm toward the middle")
        });
        lines.push(format!("It holds the {}.", sides.join("; the ")));
    }
    let mut about = Vec::new();
    match bench.worked.case.records.get(record) {
        Some(RecordFields::GrooveGaps(given)) => {
            let gaps: Vec<String> = given.gaps_mm.iter().map(|gap| two_decimals(*gap)).collect();
            let (right, left) = (as_given(given.set_at.right_deg), as_given(given.set_at.left_deg));
            about.push(format!(
                "A caliper read {} mm with the guides at {right}° and {left}°.",
                gaps.join(", ")
            ));
        }
        Some(RecordFields::ScaleReadings(given)) => {
            let of =
                |side: Side| given.of(side).iter().map(|one| as_given(*one)).collect::<Vec<_>>().join(", ");
            let read = |side: Side| (!given.of(side).is_empty()).then(|| format!("{side} {}", of(side)));
            let sides: Vec<String> = Side::BOTH.into_iter().filter_map(read).collect();
            about.push(format!("The scales read, in degrees: {}.", sides.join("; ")));
        }
        _ => {}
    }
    match bench.worked.case.records.get(record).and_then(RecordFields::perforated) {
        Some(true) => about.push("The bearing point has gone through it.".to_owned()),
        Some(false) => about.push("The bearing point has not gone through it.".to_owned()),
        None => {}
    }
    if let Some(Some(distance)) = bench.worked.distances.get(record) {
        about.push(format!("The incisal point goes {} along the occlusal plane.", length(*distance, 1)));
    }
    lines.push(about.join(" "));
    lines.retain(|line| !line.is_empty());
    lines
}
