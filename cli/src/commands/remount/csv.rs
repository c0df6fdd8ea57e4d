//! What to grind, a row a place in the order of the work.

use std::io::{self, Write};

use sim_core::cusp::Tooth;
use sim_core::excursion::Movement;
use sim_core::remount::{CuspGrinding, Grinding, Ground};

use crate::output::{Column, Row, Rows, column, exact};
use report::remount::{Grind, RemountReport};

struct Place<'p>(usize, &'p Grinding);

/// A cusp in the way, where there are no casts.
struct OfCusp<'c>(usize, &'c CuspGrinding);

impl Row for OfCusp<'_> {
    fn columns() -> Vec<Column<Self>> {
        vec![
            column("number", |row| row.0.into()),
            column("step", |row| row.1.kind.name().into()),
            column("excursion", |row| row.1.movement.map_or("", Movement::name).into()),
            column("advance_mm", |row| exact(row.1.advance.mm()).into()),
            column("cusp", |row| row.1.cusp.as_str().into()),
            column("opposing_incline", |row| row.1.incline.name().into()),
            column("surface", |row| row.1.ground.map_or("", Ground::name).into()),
            column("amount_mm", |row| exact(row.1.amount.mm()).into()),
        ]
    }
}

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
    if let Grind::Cusps(cusps) = &report.grinding {
        let mut rows = Rows::of::<OfCusp<'_>>(out)?;
        for (index, cusp) in cusps.iter().enumerate() {
            rows.put(&OfCusp(index + 1, cusp))?;
        }
        return rows.end();
    }
    let mut rows = Rows::of::<Place<'_>>(out)?;
    if let Grind::List(list) = &report.grinding {
        for (index, place) in list.places.iter().enumerate() {
            rows.put(&Place(index + 1, place))?;
        }
    }
    rows.end()
}
