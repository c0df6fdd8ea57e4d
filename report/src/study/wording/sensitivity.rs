//! Where the spread comes from, as tables.

use sim_core::study::statistics::{Estimate, FactorIndices, SobolIndices};

use super::table::{WordedTable, by_place, number, owned};
use crate::study::summary::{Numbers, Sensitivity, StudySummary};
use words::name::{column, column::head};
use words::number::three_decimals;

/// Numbers of the factors as heads.
fn factor_heads(summary: &StudySummary) -> impl Iterator<Item = String> {
    (1..=summary.factors.len()).map(|number| number.to_string())
}

/// Those measures whose sensitivity is of one kind, with it.
fn of_kind<'s, T>(
    summary: &'s StudySummary,
    kind: impl Fn(&'s Sensitivity) -> Option<T>,
) -> Vec<(&'s Numbers, T)> {
    let measures = summary.numbers.iter();
    measures.filter_map(|numbers| Some((numbers, kind(numbers.sensitivity.as_ref().ok()?)?))).collect()
}

fn as_indices(sensitivity: &Sensitivity) -> Option<&SobolIndices> {
    match sensitivity {
        Sensitivity::Indices(indices) => Some(indices),
        Sensitivity::Tornado { .. } | Sensitivity::Coefficients(_) => None,
    }
}

pub(super) fn first_order(summary: &StudySummary) -> WordedTable {
    let measures = of_kind(summary, as_indices);
    let row = |(numbers, indices): &(&Numbers, &SobolIndices)| {
        let values: Vec<f64> = indices.factors.iter().map(|factor| factor.first.value).collect();
        let mut cells = vec![column::content(&numbers.column)];
        cells.extend(values.iter().copied().map(number));
        cells.push(number(values.iter().sum()));
        cells
    };
    let mut heads = vec![String::new()];
    heads.extend(factor_heads(summary));
    heads.push("sum".to_owned());
    WordedTable {
        caption: "First-order Sobol’ indices, by factor".to_owned(),
        heads,
        rows: by_place(&measures, |(numbers, _)| &numbers.column, row),
        of_words: None,
        note: format!(
            "Part of the variance that would go if the factor alone were known. {}",
            widest(summary, &measures, |factor| factor.first)
        ),
    }
}

pub(super) fn totals(summary: &StudySummary) -> WordedTable {
    let measures = of_kind(summary, as_indices);
    let row = |(numbers, indices): &(&Numbers, &SobolIndices)| {
        let mut cells = vec![column::content(&numbers.column)];
        cells.extend(indices.factors.iter().map(|factor| number(factor.total.value)));
        cells
    };
    let mut heads = vec![String::new()];
    heads.extend(factor_heads(summary));
    WordedTable {
        caption: "Total Sobol’ indices, by factor".to_owned(),
        heads,
        rows: by_place(&measures, |(numbers, _)| &numbers.column, row),
        of_words: None,
        note: format!(
            "Part of the variance that would stay if all but the factor were known. {}",
            widest(summary, &measures, |factor| factor.total)
        ),
    }
}

fn widest(
    summary: &StudySummary,
    measures: &[(&Numbers, &SobolIndices)],
    of: impl Fn(&FactorIndices) -> Estimate,
) -> String {
    let all = measures.iter().flat_map(|(_, indices)| &indices.factors).map(of);
    let widest = all
        .map(|estimate| estimate.high - estimate.low)
        .filter(|width| width.is_finite())
        .fold(0.0, f64::max);
    format!(
        "The widest interval (95 % of {} bootstrap resamples, seed {}) is {} wide; all of them are in CSV and JSON.",
        summary.resamples,
        summary.seed,
        three_decimals(widest)
    )
}

pub(super) fn coefficients(summary: &StudySummary) -> WordedTable {
    let measures = of_kind(summary, |sensitivity| match sensitivity {
        Sensitivity::Coefficients(regression) => Some(regression),
        Sensitivity::Indices(_) | Sensitivity::Tornado { .. } => None,
    });
    let mut heads = vec![String::new(), "R²".to_owned()];
    heads.extend(factor_heads(summary));
    WordedTable {
        caption: "Standardised regression coefficients, by factor".to_owned(),
        heads,
        rows: by_place(
            &measures,
            |(numbers, _)| &numbers.column,
            |(numbers, regression)| {
                let mut cells = vec![column::content(&numbers.column), number(regression.r_squared)];
                cells.extend(regression.coefficients.iter().copied().map(number));
                cells
            },
        ),
        of_words: None,
        note: "Change of the measure, in its standard deviations, for one standard deviation of the factor; R² is \
               the part of the variance that straight lines explain."
            .to_owned(),
    }
}

pub(super) fn tornado(summary: &StudySummary) -> WordedTable {
    let measures = of_kind(summary, |sensitivity| match sensitivity {
        Sensitivity::Tornado { base, bars } => Some((*base, bars)),
        Sensitivity::Indices(_) | Sensitivity::Coefficients(_) => None,
    });
    let mut heads = vec![String::new(), "base".to_owned()];
    heads.extend(factor_heads(summary));
    WordedTable {
        caption: "From the least to the greatest as each factor varies alone".to_owned(),
        heads,
        rows: by_place(
            &measures,
            |(numbers, _)| &numbers.column,
            |(numbers, (base, bars))| {
                let mut cells = vec![head(&numbers.column), number(*base)];
                cells.extend((0..summary.factors.len()).map(|factor| {
                    let bar = bars.iter().find(|bar| bar.factor == factor);
                    bar.map_or("–".to_owned(), |bar| number(bar.greatest.measure - bar.least.measure))
                }));
                cells
            },
        ),
        of_words: None,
        note: "“base” is the measure in the base scene.".to_owned(),
    }
}

pub(super) fn without_sensitivity(numbers: &[Numbers]) -> WordedTable {
    let measures = numbers.iter().filter_map(|measure| Some((measure, measure.sensitivity.as_ref().err()?)));
    let measures: Vec<(&Numbers, String)> =
        measures.map(|(measure, why)| (measure, why.to_string())).collect();
    WordedTable {
        caption: "Where the spread comes from could not be determined".to_owned(),
        heads: owned(&["", "why"]),
        rows: by_place(
            &measures,
            |(measure, _)| &measure.column,
            |(measure, why)| vec![column::content(&measure.column), why.clone()],
        ),
        of_words: Some(1),
        note: String::new(),
    }
}
