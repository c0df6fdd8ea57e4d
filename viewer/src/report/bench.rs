//! The bench in the report.

use std::collections::BTreeMap;

use serde::Serialize;

use crate::bench::Dial;
use crate::state::State;

/// A case on the bench.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub(super) struct BenchLine {
    title: String,
    file: Option<String>,
    dealt: Option<String>,
    /// By the dial's name: `H.right`.
    set_to_deg: BTreeMap<String, f64>,
    locked: Vec<String>,
    /// The record between the casts.
    between: Option<usize>,
    gaps_mm: Vec<f64>,
    closed: bool,
    unknown: Option<String>,
    /// The standing of each step, in the order of the work.
    order: Vec<String>,
    readings: usize,
    size: String,
    points: Option<f64>,
}

/// The line of the bench, if a case lies on it.
pub(super) fn line(state: &State) -> Option<BenchLine> {
    let bench = state.bench.as_ref()?;
    let patient = bench.patient.as_ref();
    Some(BenchLine {
        title: bench.worked.case.title.clone(),
        file: bench.file.as_ref().map(|file| file.display().to_string()),
        dealt: patient.map(|patient| patient.deal.number.to_string()),
        set_to_deg: Dial::ALL.map(|dial| (dial.key(), bench.set_to(dial).degrees())).into(),
        locked: Dial::ALL.into_iter().filter(|dial| bench.is_locked(*dial)).map(Dial::key).collect(),
        between: bench.between,
        gaps_mm: bench.split.gaps.iter().map(|gap| gap.mm()).collect(),
        closed: bench.split.closed,
        unknown: bench.split.unknown.clone(),
        order: bench.order().iter().map(|line| line.standing.words().to_owned()).collect(),
        readings: bench.readings.len(),
        size: bench.magnified.name(),
        points: patient.and_then(|patient| patient.mark.as_ref()).map(|mark| mark.points),
    })
}
