//! Whether the rows are enough, as tables.

use sim_core::study::GroupSensitivity;
use sim_core::study::statistics::Estimate;

use super::table::{Row, WordedTable, by_place, number, owned};
use crate::study::summary::{Convergence, Numbers, Step, StudySummary};
use words::name::column;
use words::number::three_decimals;
use words::verdict::study::{Counted, enough};

/// Measures that have been followed, with their steps.
fn followed(summary: &StudySummary) -> Vec<(&Numbers, &Convergence)> {
    let measures = summary.numbers.iter();
    measures.filter_map(|measure| Some((measure, measure.convergence.as_ref()?))).collect()
}

/// The last steps are shown: a quarter, half, all.
const SHOWN: usize = 3;

/// A cell for each step, from the fewest rows on.
fn cells(convergence: &Convergence, of: impl Fn(&Step) -> f64) -> Vec<String> {
    let steps = &convergence.steps[convergence.steps.len().saturating_sub(SHOWN)..];
    let none = std::iter::repeat_n("–".to_owned(), SHOWN - steps.len());
    none.chain(steps.iter().map(|step| number(of(step)))).collect()
}

fn half(half: f64) -> String {
    if half.is_finite() { three_decimals(half) } else { "–".to_owned() }
}

pub(super) fn of_spread(summary: &StudySummary) -> WordedTable {
    let row = |(measure, convergence): &(&Numbers, &Convergence)| {
        let Some(whole) = convergence.whole() else { return Vec::new() };
        let mut row = vec![column::content(&measure.column)];
        row.extend(cells(convergence, |step| step.mean.value));
        row.push(half(whole.mean.half_width()));
        row.push(half(whole.quantiles.iter().map(Estimate::half_width).fold(0.0, larger)));
        row.push(enough(whole.mean.half_width(), Counted::Rows(whole.rows)));
        row
    };
    let rows: Vec<Row> = by_place(&followed(summary), |(measure, _)| &measure.column, row);
    WordedTable {
        caption: "Are the rows enough? The mean with a quarter of them, with half, with all".to_owned(),
        heads: owned(&["", "¼", "½", "all", "± mean", "± quantile", "of the mean"]),
        rows,
        of_words: Some(6),
        note: "“±” is half of the interval with all rows, of quantiles the widest; one without an interval is “–”: there \
               are too few rows for it."
            .to_owned(),
    }
}

/// Not a number where one of them is none.
fn larger(one: f64, other: f64) -> f64 {
    if one.is_nan() || other.is_nan() { f64::NAN } else { one.max(other) }
}

pub(super) fn of_groups(summary: &StudySummary) -> WordedTable {
    let largest =
        |step: &Step| step.factors.iter().flatten().map(|factor| factor.value).fold(f64::NAN, f64::max);
    let row = |(measure, convergence): &(&Numbers, &Convergence)| {
        let Some(whole) = convergence.whole() else { return Vec::new() };
        let mut row = vec![column::content(&measure.column)];
        row.extend(cells(convergence, largest));
        row.push(half(whole.widest));
        row.push(enough(whole.widest, Counted::Groups(whole.groups.unwrap_or(whole.rows))));
        row
    };
    let told: Vec<(&Numbers, &Convergence)> = followed(summary)
        .into_iter()
        .filter(|(_, convergence)| convergence.whole().is_some_and(|step| step.factors.is_some()))
        .collect();
    let kind = told.first().and_then(|(measure, _)| measure.sensitivity.as_ref().ok()?.of_groups());
    let (what, of_all) = match kind {
        Some(GroupSensitivity::Effects(_)) => ("mean size of effects", "mean size"),
        Some(GroupSensitivity::Shares(_)) => ("share", "share"),
        _ => ("total index", "first-order or total index"),
    };
    WordedTable {
        caption: format!(
            "Are the groups enough? The largest {what} with a quarter of them, with half, with all"
        ),
        heads: owned(&["", "¼", "½", "all", "±", "of every one"]),
        rows: by_place(&told, |(measure, _)| &measure.column, row),
        of_words: Some(5),
        note: format!("“±” is half of the widest interval of a {of_all} with all groups."),
    }
}
