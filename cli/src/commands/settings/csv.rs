//! One row a setting; a choice has words in place of a range.

use std::io::{self, Write};

use sim_core::facts::Facts;
use sim_core::setting::{self, Choice};

use crate::output::{Column, Field, Row, Rows, column};

enum SettingRow {
    Number(setting::Listed),
    Choice { choice: Choice, words: String },
}

/// What a row has of a number; empty for a choice.
fn number(row: &SettingRow, of: impl Fn(&Facts) -> Field<'static>) -> Field<'static> {
    match row {
        SettingRow::Number(listed) => of(listed.facts),
        SettingRow::Choice { .. } => Field::Empty,
    }
}

impl Row for SettingRow {
    fn columns() -> Vec<Column<Self>> {
        vec![
            column("name", |row| match row {
                Self::Number(listed) => (&listed.name).into(),
                Self::Choice { choice, .. } => choice.key().into(),
            }),
            column("label", |row| match row {
                Self::Number(listed) => listed.facts.label.into(),
                Self::Choice { choice, .. } => choice.label().into(),
            }),
            column("unit", |row| number(row, |facts| facts.unit.words().into())),
            column("min", |row| number(row, |facts| facts.min.into())),
            column("max", |row| number(row, |facts| facts.max.into())),
            column("step", |row| number(row, |facts| facts.step.into())),
            column("zeroed", |row| number(row, |facts| facts.zeroed.into())),
            column("words", |row| match row {
                Self::Number(_) => Field::Empty,
                Self::Choice { words, .. } => words.into(),
            }),
            column("each_side", |row| match row {
                Self::Number(listed) => listed.each_side.into(),
                Self::Choice { choice, .. } => choice.is_per_side().into(),
            }),
            column("doc", |row| number(row, |facts| facts.doc.into())),
        ]
    }
}

pub(super) fn write(out: &mut dyn Write) -> io::Result<()> {
    let mut rows = Rows::of::<SettingRow>(out)?;
    let choices =
        Choice::ALL.into_iter().map(|choice| SettingRow::Choice { choice, words: choice.words().join(" ") });
    setting::listed().map(SettingRow::Number).chain(choices).try_for_each(|row| rows.put(&row))?;
    rows.end()
}
