//! The points of the legs from the apex outward, to be read again.

use std::io::{self, Write};

use sim_core::tracing::{Leg, PlatePoint};

use crate::output::{Column, Row, Rows, column, exact};
use files::tracing::COLUMNS;
use report::tracing::TracingReport;

struct PointRow<'r> {
    leg: Leg,
    point: &'r PlatePoint,
}

impl Row for PointRow<'_> {
    fn columns() -> Vec<Column<Self>> {
        let [leg, forward, left] = COLUMNS;
        vec![
            column(leg, |row| row.leg.name().into()),
            column(forward, |row| exact(row.point.forward.mm()).into()),
            column(left, |row| exact(row.point.left.mm()).into()),
        ]
    }
}

pub(super) fn write(report: &TracingReport, out: &mut dyn Write) -> io::Result<()> {
    let mut rows = Rows::of::<PointRow<'_>>(out)?;
    for leg in &report.findings.legs {
        for point in &leg.line {
            rows.put(&PointRow { leg: leg.leg, point })?;
        }
    }
    rows.end()
}
