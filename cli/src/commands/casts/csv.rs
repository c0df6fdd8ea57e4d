//! The cusps and where they are.

use std::io::{self, Write};

use sim_core::cusp::Cusp;

use crate::output::{Column, Row, Rows, column, exact_coordinates};
use report::invented_pair::InventedPairReport;

struct CuspRow<'r>(&'r Cusp);

impl CuspRow<'_> {
    fn at(&self, axis: usize) -> f64 {
        exact_coordinates(&self.0.at_mm())[axis]
    }
}

impl Row for CuspRow<'_> {
    fn columns() -> Vec<Column<Self>> {
        vec![
            column("tooth", |row| row.0.tooth().number().into()),
            column("name", |row| row.0.name().into()),
            column("x_mm", |row| row.at(0).into()),
            column("y_mm", |row| row.at(1).into()),
            column("z_mm", |row| row.at(2).into()),
        ]
    }
}

pub(super) fn write(report: &InventedPairReport, out: &mut dyn Write) -> io::Result<()> {
    let mut rows = Rows::of::<CuspRow<'_>>(out)?;
    report.cusps.iter().try_for_each(|cusp| rows.put(&CuspRow(cusp)))?;
    rows.end()
}
