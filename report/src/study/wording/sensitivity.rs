//! Where the spread comes from, as tables.

use sim_core::study::GroupSensitivity;
use sim_core::study::statistics::{
    ElementaryEffects, Estimate, FactorEffects, FactorShare, ShapleyEffects, SobolIndices, Standardised,
};

use super::table::{Row, WordedTable, by_place, number, owned, rows_by_place, with_ends};
use crate::study::summary::{Numbers, Sensitivity, StudySummary};
use words::name::{column, column::head};

/// A table with a column for each factor, and heads of its own before and behind them.
fn by_factor(
    summary: &StudySummary,
    caption: &str,
    (before, behind): (&[&str], &[&str]),
    rows: Vec<Row>,
    note: String,
) -> WordedTable {
    let mut heads = owned(before);
    heads.extend((1..=summary.factors.len()).map(|number| number.to_string()));
    heads.extend(owned(behind));
    WordedTable { caption: caption.to_owned(), heads, rows, of_words: None, note }
}

/// A sentence or more, and how the intervals under it are made.
fn with_intervals(note: &str, summary: &StudySummary) -> String {
    format!("{note} {}", summary.intervals.of_sensitivity)
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
        Sensitivity::Groups(GroupSensitivity::Indices(indices)) => Some(indices),
        _ => None,
    }
}

/// A part of what is told of each factor, its head and how it is read.
type Part<T> = (&'static str, fn(&T) -> Estimate);

/// A row, with its intervals, for each part of what is told of a measure's factors.
fn of_parts<T>(named: &str, factors: &[T], parts: &[Part<T>]) -> Vec<Vec<String>> {
    let row = |(what, of): &Part<T>| {
        let cells: Vec<_> = factors.iter().map(|own| Ok(of(own))).collect();
        with_ends(format!("{named}, {what}"), &cells)
    };
    parts.iter().flat_map(row).collect()
}

pub(super) fn shares(summary: &StudySummary) -> WordedTable {
    let measures = of_kind(summary, |sensitivity| match sensitivity {
        Sensitivity::Groups(GroupSensitivity::Shares(shares)) => Some(shares),
        _ => None,
    });
    let parts: [Part<FactorShare>; 3] =
        [("share", |own| own.share), ("known alone", |own| own.alone), ("not known alone", |own| own.last)];
    let rows = |(numbers, shares): &(&Numbers, &ShapleyEffects)| {
        of_parts(&column::content(&numbers.column), &shares.factors, &parts)
    };
    by_factor(
        summary,
        "Shapley effects, by factor",
        (&[""], &[]),
        rows_by_place(&measures, |(numbers, _)| &numbers.column, rows),
        with_intervals(
            "“share”: part of the variance that goes to the factor, what is common to several shared out evenly; the \
             shares add up to 1. “known alone”: the part that would go if the factor alone were known, with what it \
             tells of those it is correlated with; “not known alone”: the part that would stay if all but the factor \
             were known.",
            summary,
        ),
    )
}

pub(super) fn effects(summary: &StudySummary) -> WordedTable {
    let measures = of_kind(summary, |sensitivity| match sensitivity {
        Sensitivity::Groups(GroupSensitivity::Effects(effects)) => Some(effects),
        _ => None,
    });
    let parts: [Part<FactorEffects>; 3] =
        [("mean size", |own| own.size), ("mean", |own| own.mean), ("sd", |own| own.spread)];
    let rows = |(numbers, effects): &(&Numbers, &ElementaryEffects)| {
        of_parts(&head(&numbers.column), &effects.factors, &parts)
    };
    by_factor(
        summary,
        "Elementary effects, by factor",
        (&[""], &[]),
        rows_by_place(&measures, |(numbers, _)| &numbers.column, rows),
        with_intervals(
            "Change of the measure, in its unit, over all of a factor’s distribution, from steps of half of it. “mean \
             size” says how much a factor matters; a “mean” less in size, that it goes both ways; an “sd” beside the mean \
             size, that what it does is no straight line or depends on the others.",
            summary,
        ),
    )
}

pub(super) fn first_order(summary: &StudySummary) -> WordedTable {
    let measures = of_kind(summary, as_indices);
    let rows = |(numbers, indices): &(&Numbers, &SobolIndices)| {
        let firsts: Vec<Estimate> = indices.factors.iter().map(|factor| factor.first).collect();
        let sum = firsts.iter().map(|first| first.value).sum();
        let cells = firsts.into_iter().map(Ok).chain([Err(number(sum))]);
        with_ends(column::content(&numbers.column), &cells.collect::<Vec<_>>())
    };
    by_factor(
        summary,
        "First-order Sobol’ indices, by factor",
        (&[""], &["sum"]),
        rows_by_place(&measures, |(numbers, _)| &numbers.column, rows),
        with_intervals("Part of the variance that would go if the factor alone were known.", summary),
    )
}

pub(super) fn totals(summary: &StudySummary) -> WordedTable {
    let measures = of_kind(summary, as_indices);
    let rows = |(numbers, indices): &(&Numbers, &SobolIndices)| {
        let cells = indices.factors.iter().map(|factor| Ok(factor.total));
        with_ends(column::content(&numbers.column), &cells.collect::<Vec<_>>())
    };
    by_factor(
        summary,
        "Total Sobol’ indices, by factor",
        (&[""], &[]),
        rows_by_place(&measures, |(numbers, _)| &numbers.column, rows),
        with_intervals("Part of the variance that would stay if all but the factor were known.", summary),
    )
}

pub(super) fn pairs(summary: &StudySummary) -> WordedTable {
    let measures = of_kind(summary, as_indices);
    let heads =
        measures.iter().find_map(|(_, indices)| (!indices.pairs.is_empty()).then_some(&indices.pairs));
    let heads =
        heads.into_iter().flatten().map(|pair| format!("{}+{}", pair.factors.0 + 1, pair.factors.1 + 1));
    let heads: Vec<String> = std::iter::once(String::new()).chain(heads).collect();
    let rows = |(numbers, indices): &(&Numbers, &SobolIndices)| {
        let cells: Vec<_> = indices.pairs.iter().map(|pair| Ok(pair.index)).collect();
        with_ends(column::content(&numbers.column), &cells)
    };
    let rows = if heads.len() > 1 {
        rows_by_place(&measures, |(numbers, _)| &numbers.column, rows)
    } else {
        Vec::<Row>::new()
    };
    WordedTable {
        caption: "Second-order Sobol’ indices, by two factors".to_owned(),
        heads,
        rows,
        of_words: None,
        note: with_intervals(
            "Part of the variance that comes of the two factors together and of neither alone.",
            summary,
        ),
    }
}

pub(super) fn coefficients(summary: &StudySummary) -> WordedTable {
    let measures = of_kind(summary, |sensitivity| match sensitivity {
        Sensitivity::Coefficients(regression) => Some(regression),
        _ => None,
    });
    let rows = |(numbers, regression): &(&Numbers, &Standardised)| {
        let cells = regression.estimates.iter().copied().map(Ok);
        let cells = std::iter::once(Err(number(regression.r_squared))).chain(cells);
        with_ends(column::content(&numbers.column), &cells.collect::<Vec<_>>())
    };
    by_factor(
        summary,
        "Standardised regression coefficients, by factor",
        (&["", "R²"], &[]),
        rows_by_place(&measures, |(numbers, _)| &numbers.column, rows),
        with_intervals(
            "Change of the measure, in its standard deviations, for one standard deviation of the factor; R² is \
             the part of the variance that straight lines explain.",
            summary,
        ),
    )
}

pub(super) fn tornado(summary: &StudySummary) -> WordedTable {
    let measures = of_kind(summary, |sensitivity| match sensitivity {
        Sensitivity::Tornado { base, bars } => Some((*base, bars)),
        _ => None,
    });
    let rows = by_place(
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
    );
    by_factor(
        summary,
        "From the least to the greatest as each factor varies alone",
        (&["", "base"], &[]),
        rows,
        "“base” is the measure in the base scene.".to_owned(),
    )
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
