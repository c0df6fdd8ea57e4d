//! A study's summary: one row a number, with the column it is of and what it says.

use std::io::{self, Write};

use sim_core::study::statistics::{BAND, Estimate};
use sim_core::study::{Column, ColumnRole};
use sim_core::units::Unit;

use crate::output::{self, Field, Rows, column, exact};
use report::study::summary::{Numbers, Reason, Sensitivity, Spread, StudySummary};

/// One number that is told of a column; of the whole study where there is none.
struct StatisticRow<'r> {
    column: Option<&'r Column>,
    statistic: &'r str,
    /// What the statistic is of besides the column: the part of a quantile, a word, a reason, a factor.
    of: &'r str,
    value: f64,
    /// Of an estimate that has one.
    interval: Option<(f64, f64)>,
}

/// Empty where there is none.
fn number(number: f64) -> Field<'static> {
    number.is_finite().then(|| exact(number)).into()
}

impl output::Row for StatisticRow<'_> {
    fn columns() -> Vec<output::Column<Self>> {
        vec![
            column("column", |row| row.column.map(|own| own.name.as_str()).into()),
            column("role", |row| row.column.map(|own| role_name(own.role)).into()),
            column("unit", |row| row.column.and_then(|own| own.unit).map(Unit::words).into()),
            column("statistic", |row| row.statistic.into()),
            column("of", |row| row.of.into()),
            column("value", |row| number(row.value)),
            column("low", |row| row.interval.map(|(low, _)| number(low)).into()),
            column("high", |row| row.interval.map(|(_, high)| number(high)).into()),
        ]
    }
}

fn role_name(role: ColumnRole) -> &'static str {
    match role {
        ColumnRole::Factor => "factor",
        ColumnRole::Derived => "derived",
        ColumnRole::Measured => "measured",
        ColumnRole::Reason => "reason",
    }
}

pub(super) fn write(summary: &StudySummary, out: &mut dyn Write) -> io::Result<()> {
    let mut lines = Lines { rows: Rows::of::<StatisticRow<'_>>(out)? };
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
        self.rows.put(&StatisticRow { column, statistic, of, value, interval })
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
