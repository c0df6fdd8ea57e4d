//! A study's summary: one row a number, with the column it is of and what it says.

use std::io::{self, Write};

use sim_core::study::statistics::{BAND, Estimate};
use sim_core::study::{Column, ColumnRole};

use super::exact;
use super::rows::Rows;
use report::study::summary::{Numbers, Reason, Sensitivity, Spread, StudySummary};

/// `of` tells what a statistic is of besides the column: the part of a quantile, a word, a reason, a
/// factor. An estimate with an interval has `low` and `high`.
const HEADS: [&str; 8] = ["column", "role", "unit", "statistic", "of", "value", "low", "high"];

pub(super) fn write(summary: &StudySummary, out: &mut dyn Write) -> io::Result<()> {
    let mut lines = Lines { rows: Rows::under(&HEADS, out)? };
    lines.put(None, "rows", "", whole(summary.rows))?;
    lines.put(None, "rows_of_study", "", whole(summary.study_rows))?;
    lines.reasons(None, &summary.reasons)?;
    for spread in summary.factors.iter().chain(&summary.derived) {
        lines.spread(spread)?;
    }
    for numbers in &summary.numbers {
        lines.numbers(numbers, &summary.factors)?;
    }
    for flags in &summary.flags {
        let own = Some(&flags.column);
        lines.put(own, "rows", "true", whole(flags.yes))?;
        lines.put(own, "rows", "false", whole(flags.no))?;
        lines.put(own, "share", "true", flags.share())?;
        lines.reasons(own, &flags.missing)?;
    }
    for words in &summary.words {
        let own = Some(&words.column);
        for (word, rows) in &words.counts {
            lines.put(own, "rows", word, whole(*rows))?;
        }
        lines.reasons(own, &words.missing)?;
    }
    lines.rows.end()
}

#[allow(clippy::cast_precision_loss)] // counts are below 2^53
fn whole(count: u64) -> f64 {
    count as f64
}

struct Lines<'o> {
    rows: Rows<'o>,
}

impl Lines<'_> {
    fn line(
        &mut self,
        column: Option<&Column>,
        (statistic, of): (&str, &str),
        value: f64,
        interval: Option<(f64, f64)>,
    ) -> io::Result<()> {
        let name = column.map_or("", |own| own.name.as_str());
        let role = match column.map(|own| own.role) {
            Some(ColumnRole::Factor) => "factor",
            Some(ColumnRole::Derived) => "derived",
            Some(ColumnRole::Measured) => "measured",
            Some(ColumnRole::Reason) => "reason",
            None => "",
        };
        let unit = column.and_then(|own| own.unit).map_or("", sim_core::units::Unit::words);
        let number = |number: f64| number.is_finite().then(|| exact(number));
        let (low, high) = interval.map_or((None, None), |(low, high)| (number(low), number(high)));
        self.rows.put((name, role, unit, statistic, of, number(value), low, high))
    }

    fn put(&mut self, column: Option<&Column>, statistic: &str, of: &str, value: f64) -> io::Result<()> {
        self.line(column, (statistic, of), value, None)
    }

    fn estimate(
        &mut self,
        column: &Column,
        statistic: &str,
        of: &str,
        estimate: &Estimate,
    ) -> io::Result<()> {
        let interval = Some((estimate.low, estimate.high));
        self.line(Some(column), (statistic, of), estimate.value, interval)
    }

    fn reasons(&mut self, column: Option<&Column>, reasons: &[Reason]) -> io::Result<()> {
        reasons.iter().try_for_each(|own| self.put(column, "rows_without_value", &own.words, whole(own.rows)))
    }

    fn spread(&mut self, spread: &Spread) -> io::Result<()> {
        let (own, moments) = (Some(&spread.column), &spread.moments);
        self.put(own, "mean", "", moments.mean())?;
        self.put(own, "sd", "", moments.sd())?;
        self.put(own, "least", "", moments.least())?;
        self.put(own, "greatest", "", moments.greatest())
    }

    fn numbers(&mut self, numbers: &Numbers, factors: &[Spread]) -> io::Result<()> {
        let (column, moments) = (&numbers.column, &numbers.moments);
        let own = Some(column);
        self.put(own, "rows", "", whole(moments.count()))?;
        self.reasons(own, &numbers.missing)?;
        self.put(own, "mean", "", moments.mean())?;
        self.put(own, "sd", "", if moments.count() == 0 { f64::NAN } else { moments.sd() })?;
        self.put(own, "least", "", moments.least())?;
        for (part, at) in BAND.iter().zip(numbers.quantiles) {
            self.put(own, "quantile", &part.to_string(), at)?;
        }
        self.put(own, "greatest", "", moments.greatest())?;
        let name = |factor: usize| factors.get(factor).map_or("", |own| own.column.name.as_str());
        match &numbers.sensitivity {
            Ok(Sensitivity::Indices(found)) => {
                self.put(own, "groups", "", found.groups as f64)?;
                for (factor, indices) in found.factors.iter().enumerate() {
                    self.estimate(column, "first_order_index", name(factor), &indices.first)?;
                    self.estimate(column, "total_index", name(factor), &indices.total)?;
                }
                Ok(())
            }
            Ok(Sensitivity::Tornado { base, bars }) => {
                self.put(own, "base", "", *base)?;
                bars.iter().try_for_each(|bar| {
                    let interval = Some((bar.least.measure, bar.greatest.measure));
                    let swing = bar.greatest.measure - bar.least.measure;
                    self.line(own, ("swing", name(bar.factor)), swing, interval)
                })
            }
            Ok(Sensitivity::Coefficients(found)) => {
                self.put(own, "r_squared", "", found.r_squared)?;
                found.coefficients.iter().enumerate().try_for_each(|(factor, value)| {
                    self.put(own, "standardised_coefficient", name(factor), *value)
                })
            }
            Err(untold) => self.put(own, "sensitivity_not_told", &untold.to_string(), f64::NAN),
        }
    }
}
