//! One row a departure.

use std::io::{self, Write};

use sim_core::setting::{Departure, DepartureValue};

use super::names::departure_name;
use crate::output::{Column, Field, Row, Rows, column};

struct DepartureRow<'r> {
    name: String,
    departure: &'r Departure,
}

impl Row for DepartureRow<'_> {
    fn columns() -> Vec<Column<Self>> {
        vec![
            column("setting", |row| (&row.name).into()),
            column("label", |row| row.departure.label.into()),
            column("side", |row| row.departure.side.map(|side| side.name()).into()),
            column("is", |row| match row.departure.value {
                DepartureValue::Number { is, .. } => is.into(),
                DepartureValue::Word { is, .. } => is.into(),
            }),
            column("zeroed", |row| match row.departure.value {
                DepartureValue::Number { zeroed, .. } => zeroed.into(),
                DepartureValue::Word { zeroed, .. } => zeroed.into(),
            }),
            column("unit", |row| match row.departure.value {
                DepartureValue::Number { unit, .. } => unit.words().into(),
                DepartureValue::Word { .. } => Field::Empty,
            }),
        ]
    }
}

pub(super) fn write(departures: &[Departure], out: &mut dyn Write) -> io::Result<()> {
    let mut rows = Rows::of::<DepartureRow<'_>>(out)?;
    for departure in departures {
        rows.put(&DepartureRow { name: departure_name(departure), departure })?;
    }
    rows.end()
}
