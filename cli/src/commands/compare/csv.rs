//! A long table: one row a quantity, so that settings and cusps fit in one file.

use std::io::{self, Write};

use crate::output::{Column, Row, Rows, column, exact};
use report::comparison::{Both, Comparison, ExcursionChange, Only, Values};

/// A quantity in both scenes; what it says nothing about is empty.
#[derive(Clone, Copy)]
struct QuantityRow<'r> {
    excursion: &'static str,
    occurrence: Option<usize>,
    tooth: Option<u8>,
    name: &'r str,
    quantity: &'r str,
    both: Both,
    words: [&'r str; 2],
    only_in: Option<Only>,
}

impl QuantityRow<'_> {
    const EMPTY: Self = Self {
        excursion: "",
        occurrence: None,
        tooth: None,
        name: "",
        quantity: "",
        both: Both::NONE,
        words: ["", ""],
        only_in: None,
    };
}

impl Row for QuantityRow<'_> {
    fn columns() -> Vec<Column<Self>> {
        vec![
            column("excursion", |row| row.excursion.into()),
            column("occurrence", |row| row.occurrence.into()),
            column("tooth", |row| row.tooth.into()),
            column("name", |row| row.name.into()),
            column("quantity", |row| row.quantity.into()),
            column("first", |row| row.both.first.map(exact).into()),
            column("second", |row| row.both.second.map(exact).into()),
            column("change", |row| row.both.change.map(exact).into()),
            column("first_word", |row| row.words[0].into()),
            column("second_word", |row| row.words[1].into()),
            column("only_in", |row| {
                let name = |only| match only {
                    Only::First => "first",
                    Only::Second => "second",
                };
                row.only_in.map(name).into()
            }),
        ]
    }
}

pub(super) fn write(comparison: &Comparison, out: &mut dyn Write) -> io::Result<()> {
    let mut rows = Rows::of::<QuantityRow<'_>>(out)?;
    for setting in &comparison.settings {
        let (both, words) = match &setting.values {
            Values::Number { both, .. } => (*both, ["", ""]),
            Values::Word { first, second } => (Both::NONE, [first.as_str(), second.as_str()]),
        };
        rows.put(&QuantityRow { quantity: &setting.name, both, words, ..QuantityRow::EMPTY })?;
    }
    comparison.excursions.iter().try_for_each(|excursion| write_excursion(&mut rows, excursion))?;
    rows.end()
}

fn write_excursion(rows: &mut Rows<'_>, excursion: &ExcursionChange) -> io::Result<()> {
    let about = QuantityRow {
        excursion: excursion.name,
        occurrence: Some(excursion.occurrence),
        only_in: excursion.only_in,
        ..QuantityRow::EMPTY
    };
    let guided = [&excursion.guided_by.first, &excursion.guided_by.second];
    let words = guided.map(|words| words.as_deref().unwrap_or_default());
    rows.put(&QuantityRow { quantity: "guided_by", words, ..about })?;
    let whole = [
        ("advance_mm", excursion.advance_mm),
        ("opening_deg", excursion.opening_deg),
        ("pin_lift_mm", excursion.pin_lift_mm),
    ];
    for (quantity, both) in whole {
        rows.put(&QuantityRow { quantity, both, ..about })?;
    }
    for cusp in &excursion.cusps {
        let about = QuantityRow {
            tooth: Some(cusp.tooth),
            name: &cusp.name,
            only_in: excursion.only_in.or(cusp.only_in),
            ..about
        };
        let quantities = [
            ("separation_mm", cusp.separation_mm),
            ("clearance_mm", cusp.clearance_mm),
            ("least_clearance_mm", cusp.least_clearance_mm),
        ];
        for (quantity, both) in quantities {
            rows.put(&QuantityRow { quantity, both, ..about })?;
        }
    }
    Ok(())
}
