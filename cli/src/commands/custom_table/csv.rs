//! The points of the grid, row by row.

use std::io::{self, Write};

use crate::output::{Column, Row, Rows, column, exact};
use report::formed_table::FormedTableReport;

struct PointRow {
    row: usize,
    column: usize,
    at: [f64; 3],
    printed: f64,
    swept: bool,
}

impl Row for PointRow {
    fn columns() -> Vec<Column<Self>> {
        vec![
            column("row", |point| point.row.into()),
            column("column", |point| point.column.into()),
            column("x_mm", |point| exact(point.at[0]).into()),
            column("y_mm", |point| exact(point.at[1]).into()),
            column("z_mm", |point| exact(point.at[2]).into()),
            column("printed_z_mm", |point| exact(point.printed).into()),
            column("swept", |point| point.swept.into()),
        ]
    }
}

pub(super) fn write(report: &FormedTableReport, out: &mut dyn Write) -> io::Result<()> {
    let mut rows = Rows::of::<PointRow>(out)?;
    let field = report.formed.field();
    let (down, across) = field.size();
    for (row, column) in (0..down).flat_map(|row| (0..across).map(move |column| (row, column))) {
        let Some(at) = field.point(row, column) else { continue };
        let Some([_, _, printed]) = report.printed.point(row, column) else { continue };
        let swept = report.formed.is_swept(row, column);
        rows.put(&PointRow { row, column, at, printed, swept })?;
    }
    rows.end()
}
