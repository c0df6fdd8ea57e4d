//! What to grind, a row a place in the order of the work.

use std::io::{self, Write};

use sim_core::cusp::Tooth;
use sim_core::excursion::Movement;
use sim_core::remount::Grinding;

use crate::output::{Column, Row, Rows, column, exact};
use report::remount::{Grind, RemountReport};

struct Place<'p>(usize, &'p Grinding);

impl Row for Place<'_> {
    fn columns() -> Vec<Column<Self>> {
        vec![
            column("number", |place| place.0.into()),
            column("step", |place| place.1.kind.name().into()),
            column("excursion", |place| place.1.movement.map_or("", Movement::name).into()),
            column("advance_mm", |place| exact(place.1.advance.mm()).into()),
            column("upper_tooth", |place| place.1.teeth().0.map(Tooth::number).into()),
            column("lower_tooth", |place| place.1.teeth().1.map(Tooth::number).into()),
            column("grind_tooth", |place| place.1.tooth().map(Tooth::number).into()),
            column("surface", |place| place.1.ground.name().into()),
            column("amount_mm", |place| exact(place.1.amount.mm()).into()),
        ]
    }
}

pub(super) fn write(report: &RemountReport, out: &mut dyn Write) -> io::Result<()> {
    let mut rows = Rows::of::<Place<'_>>(out)?;
    if let Grind::List(list) = &report.grinding {
        for (index, place) in list.places.iter().enumerate() {
            rows.put(&Place(index + 1, place))?;
        }
    }
    rows.end()
}
