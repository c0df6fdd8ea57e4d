//! A study's summary: one row a number, with the column it is of and what it says.

use std::io::{self, Write};

use sim_core::study::statistics::{BAND, Estimate};
use sim_core::study::{Column, ColumnRole, GroupSensitivity};
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
            column("column", |row| row.column.map(|column| column.name.as_str()).into()),
            column("role", |row| row.column.map(|column| role_name(column.role)).into()),
            column("unit", |row| row.column.and_then(|column| column.unit).map(Unit::words).into()),
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
        ColumnRole::Note => "note",
        ColumnRole::Reason => "reason",
    }
}

pub(super) fn write(summary: &StudySummary, out: &mut dyn Write) -> io::Result<()> {
    let mut lines = Lines { rows: Rows::of::<StatisticRow<'_>>(out)? };
    lines.put(None, "rows", "", whole(summary.rows))?;
    lines.put(None, "rows_of_study", "", whole(summary.study_rows))?;
    lines.reasons(None, &summary.reasons)?;
    for note in &summary.noted {
        lines.put(None, "rows_with_note", &note.words, whole(note.rows))?;
    }
    for spread in summary.factors.iter().chain(&summary.derived) {
        lines.spread(spread)?;
    }
    for numbers in &summary.numbers {
        lines.numbers(numbers, &summary.factors)?;
    }
    for flags in &summary.flags {
        let column = Some(&flags.column);
        lines.put(column, "rows", "true", whole(flags.yes))?;
        lines.put(column, "rows", "false", whole(flags.no))?;
        lines.estimate(&flags.column, "share", "true", &flags.share)?;
        lines.reasons(column, &flags.missing)?;
    }
    for words in &summary.words {
        let column = Some(&words.column);
        for (word, rows) in &words.counts {
            lines.put(column, "rows", word, whole(*rows))?;
        }
        lines.reasons(column, &words.missing)?;
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
        reasons
            .iter()
            .try_for_each(|reason| self.put(column, "rows_without_value", &reason.words, whole(reason.rows)))
    }

    fn spread(&mut self, spread: &Spread) -> io::Result<()> {
        let (column, moments) = (Some(&spread.column), &spread.moments);
        self.put(column, "mean", "", moments.mean())?;
        self.put(column, "sd", "", moments.sd())?;
        self.put(column, "least", "", moments.least())?;
        self.put(column, "greatest", "", moments.greatest())?;
        let whole_rows = &spread.in_whole_rows;
        if whole_rows.count() < moments.count() {
            self.put(column, "mean_in_whole_rows", "", whole_rows.mean())?;
            let sd = if whole_rows.count() == 0 { f64::NAN } else { whole_rows.sd() };
            self.put(column, "sd_in_whole_rows", "", sd)?;
        }
        Ok(())
    }

    fn numbers(&mut self, numbers: &Numbers, factors: &[Spread]) -> io::Result<()> {
        let (column, moments) = (&numbers.column, &numbers.moments);
        let of_measure = Some(column);
        self.put(of_measure, "rows", "", whole(moments.count()))?;
        self.reasons(of_measure, &numbers.missing)?;
        self.estimate(column, "mean", "", &numbers.mean)?;
        self.put(of_measure, "sd", "", if moments.count() == 0 { f64::NAN } else { moments.sd() })?;
        self.put(of_measure, "least", "", moments.least())?;
        for (part, at) in BAND.iter().zip(numbers.quantiles) {
            self.estimate(column, "quantile", &part.to_string(), &at)?;
        }
        self.put(of_measure, "greatest", "", moments.greatest())?;
        if let Some(share) = &numbers.below_zero {
            self.estimate(column, "share_below_zero", "", share)?;
        }
        let name = |place: usize| factors.get(place).map_or("", |factor| factor.column.name.as_str());
        match &numbers.sensitivity {
            Ok(Sensitivity::Groups(GroupSensitivity::Indices(indices))) => {
                self.put(of_measure, "groups", "", indices.groups as f64)?;
                for (factor, of_factor) in indices.factors.iter().enumerate() {
                    self.estimate(column, "first_order_index", name(factor), &of_factor.first)?;
                    self.estimate(column, "total_index", name(factor), &of_factor.total)?;
                }
                for pair in &indices.pairs {
                    let both = format!("{} + {}", name(pair.factors.0), name(pair.factors.1));
                    self.estimate(column, "second_order_index", &both, &pair.index)?;
                }
                Ok(())
            }
            Ok(Sensitivity::Groups(GroupSensitivity::Shares(shares))) => {
                self.put(of_measure, "groups", "", shares.groups as f64)?;
                shares.factors.iter().enumerate().try_for_each(|(factor, own)| {
                    self.estimate(column, "shapley_effect", name(factor), &own.share)?;
                    self.estimate(column, "part_known_alone", name(factor), &own.alone)?;
                    self.estimate(column, "part_not_known_alone", name(factor), &own.last)
                })
            }
            Ok(Sensitivity::Groups(GroupSensitivity::Effects(effects))) => {
                self.put(of_measure, "trajectories", "", effects.trajectories as f64)?;
                effects.factors.iter().enumerate().try_for_each(|(factor, own)| {
                    self.estimate(column, "effect_mean_size", name(factor), &own.size)?;
                    self.estimate(column, "effect_mean", name(factor), &own.mean)?;
                    self.estimate(column, "effect_sd", name(factor), &own.spread)
                })
            }
            Ok(Sensitivity::Tornado { base, bars }) => {
                self.put(of_measure, "base", "", *base)?;
                bars.iter().try_for_each(|bar| {
                    let interval = Some((bar.least.measure, bar.greatest.measure));
                    let swing = bar.greatest.measure - bar.least.measure;
                    self.line(of_measure, ("swing", name(bar.factor)), swing, interval)
                })
            }
            Ok(Sensitivity::Coefficients(regression)) => {
                self.put(of_measure, "r_squared", "", regression.r_squared)?;
                regression.estimates.iter().enumerate().try_for_each(|(factor, own)| {
                    self.estimate(column, "standardised_coefficient", name(factor), own)
                })
            }
            Err(why) => self.put(of_measure, "sensitivity_not_told", &why.to_string(), f64::NAN),
        }
    }
}
