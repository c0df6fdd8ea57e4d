//! What a run of a study will take.

use std::io::{self, Write};

use arrow_array::cast::AsArray as _;
use arrow_array::types::Float64Type;
use arrow_array::{Array, RecordBatch};
use arrow_schema::DataType;
use study_run::{Estimate, Form, Loaded, key};

use crate::output::{BOLD, Cell, FAINT, Grid, printable, printable_line};
use words::number::{bytes, duration, percent, two_decimals, whole};

/// Most columns that are listed.
const MOST_COLUMNS: usize = 60;

const LEGEND: &str =
    "Time and size are estimates from a second's worth of rows on this machine, as it is now.";

pub(super) fn write(
    loaded: &Loaded,
    estimate: &Estimate,
    free: Option<u64>,
    width: usize,
    out: &mut dyn Write,
) -> io::Result<()> {
    let study = loaded.prepared.study();
    writeln!(out, "{BOLD}{}{BOLD:#}", printable_line(&study.title))?;
    let mut grid = Grid::new(vec![(2, 0), (2, 0)]);
    let mut line = |name: &str, what: String| grid.row(vec![Cell::left(name), Cell::left(what)]);
    let rows = match estimate.rows == estimate.study_rows {
        true => whole(estimate.rows),
        false => format!("{} of the study's {}", whole(estimate.rows), whole(estimate.study_rows)),
    };
    line("rows", format!("{rows}, by the plan {}", study.plan.name()));
    line("columns", whole(loaded.prepared.columns().len() as u64 + 1));
    line("saved at a time", format!("{} rows", whole(estimate.group_rows)));
    let threads = match estimate.threads {
        1 => "1 thread".to_owned(),
        threads => format!("{threads} threads"),
    };
    line("time", format!("{} by {threads}", duration(estimate.seconds())));
    line(
        "speed",
        format!(
            "{} rows a second by 1 thread, {} by {threads}",
            whole(estimate.rows_a_second_by_one as u64),
            whole(estimate.rows_a_second_by_all as u64)
        ),
    );
    for form in [Form::Parquet, Form::Csv] {
        line(form.name(), format!("about {}", bytes(estimate.bytes(form))));
    }
    if let Some(free) = free {
        let fits =
            if estimate.bytes(Form::Parquet) > free as f64 { "; the table does not fit there" } else { "" };
        line("free", format!("{} beside the study{fits}", bytes(free as f64)));
    }
    for (name, what) in what_is_lost(loaded, estimate) {
        line(name, what);
    }
    grid.write(out)?;
    writeln!(out)?;
    columns(&estimate.first).write(out)?;
    let more = estimate.first.num_columns().saturating_sub(MOST_COLUMNS);
    if more > 0 {
        writeln!(out, "  … and {more} more columns")?;
    }
    writeln!(out, "\n{FAINT}{}{FAINT:#}", textwrap::fill(LEGEND, width))
}

/// What rows will have no value, by the distributions and by the rows that were tried; nothing where none.
fn what_is_lost(loaded: &Loaded, estimate: &Estimate) -> Vec<(&'static str, String)> {
    let mut lines = Vec::new();
    let left_out = loaded.prepared.left_out();
    if !left_out.tails.is_empty() {
        let (least, most) = (percent(left_out.rows.0), percent(left_out.rows.1));
        let rows = if least == most { least } else { format!("{least} to {most}") };
        let groups = left_out.groups.map(|part| format!("; {} of the groups lose a row", percent(part)));
        lines.push(("out of range", format!("{rows} of the rows{}", groups.unwrap_or_default())));
    }
    let tried = |with: u64| {
        let part = with as f64 / estimate.tried.max(1) as f64;
        format!("{} of the rows tried", percent(part))
    };
    if estimate.tried_with_reason > 0 {
        lines.push(("not whole", tried(estimate.tried_with_reason)));
    }
    if estimate.tried_with_note > 0 {
        let what = "a condyle has passed the lowest point of its arc and rises again in";
        lines.push(("to look at", format!("{what} {}", tried(estimate.tried_with_note))));
    }
    lines
}

/// A line a column, with what stands in it in the first rows.
fn columns(first: &RecordBatch) -> Grid {
    let mut grid = Grid::new(vec![(2, 0); 3 + first.num_rows()]);
    let head = ["column", "is", "unit"].map(|name| Cell::left(name).styled(BOLD));
    let rows = (0..first.num_rows()).map(|at| Cell::right(format!("row {at}")).styled(BOLD));
    grid.row(head.into_iter().chain(rows).collect());
    let schema = first.schema();
    for (field, array) in schema.fields().iter().zip(first.columns()).take(MOST_COLUMNS) {
        let metadata = |name: &str| field.metadata().get(name).map(String::as_str).unwrap_or_default();
        let unit = if metadata(key::UNIT) == "degrees" { "°" } else { metadata(key::UNIT) };
        let is = match metadata(key::SEARCHED_TO) {
            "" => metadata(key::ROLE).to_owned(),
            end => format!("{} up to {end}", metadata(key::ROLE)),
        };
        let mut cells = vec![Cell::left(printable_line(field.name())), Cell::left(is), Cell::left(unit)];
        cells.extend((0..first.num_rows()).map(|row| Cell::right(shown(array, row))));
        grid.row(cells);
    }
    grid
}

fn shown(array: &dyn Array, row: usize) -> String {
    if array.is_null(row) {
        return "–".to_owned();
    }
    match array.data_type() {
        DataType::Float64 => two_decimals(array.as_primitive::<Float64Type>().value(row)),
        DataType::Utf8 => printable(array.as_string::<i32>().value(row)),
        DataType::Boolean => if array.as_boolean().value(row) { "yes" } else { "no" }.to_owned(),
        _ => row.to_string(),
    }
}
