//! A summary put into words and tables, once, for the terminal and for the report.

mod convergence;
mod sensitivity;
mod table;

use sim_core::study::Column;
use sim_core::study::statistics::Moments;

use super::summary::{Numbers, Reason, Sensitivity, StudySummary, coefficients_caution, share};
use sim_core::study::statistics::Estimate;
use table::{by_place, number, owned, rows_by_place, with_ends};
use words::name::{column, column::head, spoken};
use words::number::{percent, three_decimals, whole};

pub use table::{Row, WordedTable};

/// All that is told, in its order.
pub struct SummaryWording {
    /// What the table is, name and value.
    pub facts: Vec<(&'static str, String)>,
    /// What is allowed but hardly meant.
    pub warnings: Vec<String>,
    /// What is to be kept in mind.
    pub notes: Vec<String>,
    /// All that has rows.
    pub tables: Vec<WordedTable>,
}

impl SummaryWording {
    /// Puts it into words.
    pub fn of(summary: &StudySummary) -> Self {
        let tables = [
            factors(summary),
            reasons(summary),
            measures(summary),
            below_zero(summary),
            flags(summary),
            words(summary),
            sensitivity::first_order(summary),
            sensitivity::totals(summary),
            sensitivity::pairs(summary),
            sensitivity::shares(summary),
            sensitivity::effects(summary),
            sensitivity::coefficients(summary),
            sensitivity::tornado(summary),
            sensitivity::without_sensitivity(&summary.numbers),
            convergence::of_spread(summary),
            convergence::of_groups(summary),
        ];
        let mut wording = Self {
            facts: facts(summary),
            warnings: summary.warnings.clone(),
            notes: summary.notes.clone(),
            tables: tables.into_iter().filter(|table| !table.rows.is_empty()).collect(),
        };
        let low = |measure: &&Numbers| match &measure.sensitivity {
            Ok(Sensitivity::Coefficients(regression)) => coefficients_caution(regression.r_squared).is_some(),
            _ => false,
        };
        let low: Vec<&Numbers> = summary.numbers.iter().filter(low).collect();
        if let Some(first) = low.first() {
            let others = match low.len() - 1 {
                0 => String::new(),
                1 => " and one more".to_owned(),
                others => format!(" and {others} more"),
            };
            let caution = coefficients_caution(0.0).unwrap_or_default();
            wording.notes.push(format!("R² is low for {}{others}. {caution}", column::full(&first.column)));
        }
        wording
    }
}

fn facts(summary: &StudySummary) -> Vec<(&'static str, String)> {
    let rows = if summary.rows == summary.study_rows {
        whole(summary.rows)
    } else {
        format!("{} of {}", whole(summary.rows), whole(summary.study_rows))
    };
    let mut facts = vec![("Table", summary.files.join(", ")), ("Plan", summary.plan.clone()), ("Rows", rows)];
    if !summary.reasons.is_empty() {
        let not_whole = summary.rows - summary.whole_rows();
        facts.push((
            "Rows not whole",
            format!("{} ({})", whole(not_whole), percent(share(not_whole, summary.rows))),
        ));
    }
    let origin = &summary.origin;
    facts.extend(origin.made_by(summary.version.as_deref()).map(|said| ("Made by", said)));
    facts.extend(origin.made_on().map(|said| ("Made on", said)));
    facts.push(("Study", format!("SHA-256 {}", summary.study_sha256)));
    facts.extend(origin.read().map(|said| ("Files read", said)));
    facts
}

fn deviation(number: f64) -> String {
    if number.is_finite() { three_decimals(number) } else { "–".to_owned() }
}

fn factors(summary: &StudySummary) -> WordedTable {
    let row = |number: Option<usize>, column: &Column, moments: &Moments| {
        let number = number.map_or_else(String::new, |number| format!("{} ", number + 1));
        let sd = if moments.count() == 0 { f64::NAN } else { moments.sd() };
        Row::Cells(vec![
            format!("{number}{}", head(column)),
            self::number(moments.mean()),
            deviation(sd),
            self::number(moments.least()),
            self::number(moments.greatest()),
        ])
    };
    let mut rows: Vec<Row> = (summary.factors.iter().enumerate())
        .map(|(index, factor)| row(Some(index), &factor.column, &factor.moments))
        .collect();
    if !summary.derived.is_empty() {
        rows.push(Row::Group("settings that follow from them".to_owned()));
        rows.extend(summary.derived.iter().map(|setting| row(None, &setting.column, &setting.moments)));
    }
    if summary.whole_rows() < summary.rows {
        rows.push(Row::Group("in the rows that are whole".to_owned()));
        let settings = summary.factors.iter().enumerate().map(|(index, factor)| (Some(index), factor));
        let settings = settings.chain(summary.derived.iter().map(|setting| (None, setting)));
        rows.extend(settings.map(|(index, setting)| row(index, &setting.column, &setting.in_whole_rows)));
    }
    WordedTable {
        caption: "Factors".to_owned(),
        heads: owned(&["", "mean", "sd", "least", "greatest"]),
        rows,
        of_words: None,
        note: String::new(),
    }
}

fn reasons(summary: &StudySummary) -> WordedTable {
    let row = |reason: &Reason| {
        Row::Cells(vec![reason.words.clone(), whole(reason.rows), percent(share(reason.rows, summary.rows))])
    };
    WordedTable {
        caption: "Rows in which something could not be measured, by their reasons".to_owned(),
        heads: owned(&["", "rows", "of all"]),
        rows: summary.reasons.iter().map(row).collect(),
        of_words: None,
        note: String::new(),
    }
}

fn missing(reasons: &[Reason]) -> String {
    whole(reasons.iter().map(|reason| reason.rows).sum())
}

fn measures(summary: &StudySummary) -> WordedTable {
    let rows = |measure: &Numbers| {
        let moments = &measure.moments;
        let sd = if moments.count() == 0 { f64::NAN } else { moments.sd() };
        let mut cells = vec![Err(missing(&measure.missing)), Ok(measure.mean), Err(deviation(sd))];
        cells.push(Err(number(moments.least())));
        cells.extend(measure.quantiles.map(Ok));
        cells.push(Err(number(moments.greatest())));
        with_ends(head(&measure.column), &cells)
    };
    WordedTable {
        caption: "Measures".to_owned(),
        heads: owned(&["", "none", "mean", "sd", "least", "5 %", "25 %", "50 %", "75 %", "95 %", "greatest"]),
        rows: rows_by_place(&summary.numbers, |measure| &measure.column, rows),
        of_words: None,
        note: format!(
            "“none”: rows without a value; all other figures use the remaining rows. {}",
            summary.intervals.of_spread
        ),
    }
}

/// A share in percent, its interval beside it.
fn share_with_ends(share: &Estimate) -> Vec<String> {
    let [value, low, high] = [share.value, share.low, share.high].map(percent_or_none);
    vec![value, low, high]
}

fn percent_or_none(share: f64) -> String {
    if share.is_finite() { percent(share) } else { "–".to_owned() }
}

fn below_zero(summary: &StudySummary) -> WordedTable {
    let measures: Vec<(&Numbers, Estimate)> =
        summary.numbers.iter().filter_map(|measure| Some((measure, measure.below_zero?))).collect();
    let row = |(measure, share): &(&Numbers, Estimate)| {
        let mut cells = vec![column::content(&measure.column)];
        cells.extend(share_with_ends(share));
        cells
    };
    WordedTable {
        caption: "Rows with a clearance below zero: the cusp interferes".to_owned(),
        heads: owned(&["", "of rows", "95 % from", "to"]),
        rows: by_place(&measures, |(measure, _)| &measure.column, row),
        of_words: None,
        note: "Shares are of the rows with a value; their intervals are made as those of the measures."
            .to_owned(),
    }
}

fn flags(summary: &StudySummary) -> WordedTable {
    let row = |flag: &super::summary::Flags| {
        let mut cells = vec![column::content(&flag.column)];
        cells.extend(share_with_ends(&flag.share));
        cells.extend([whole(flag.yes), whole(flag.no), missing(&flag.missing)]);
        cells
    };
    WordedTable {
        caption: "Interferences".to_owned(),
        heads: owned(&["", "of rows", "95 % from", "to", "with", "without", "none"]),
        rows: by_place(&summary.flags, |flag| &flag.column, row),
        of_words: None,
        note: "Shares are of the rows in which it could be told; “none” counts the others.".to_owned(),
    }
}

fn words(summary: &StudySummary) -> WordedTable {
    let row = |measure: &super::summary::Words| {
        let all: u64 = measure.counts.iter().map(|(_, rows)| rows).sum();
        let counts = measure
            .counts
            .iter()
            .map(|(word, rows)| format!("{} {}", spoken(word), percent(share(*rows, all))));
        vec![
            column::content(&measure.column),
            counts.collect::<Vec<_>>().join(", "),
            missing(&measure.missing),
        ]
    };
    WordedTable {
        caption: "Guidance and other words".to_owned(),
        heads: owned(&["", "of rows that say something", "none"]),
        rows: by_place(&summary.words, |measure| &measure.column, row),
        of_words: Some(1),
        note: String::new(),
    }
}
