//! Studies and their tables, whole and in pieces.

use std::fs::File;
use std::ops::Range;
use std::path::Path;

use parquet::arrow::ArrowWriter;
use serde_json::Value;
use sim_core::study::{Cell, ColumnKind};
use study_run::{Batcher, Loaded};

use crate::helpers::{Folder, Parts, json, run};

/// Writes a study of a scene of the checks' own: its factors, what else it has, its record.
pub(crate) fn written(folder: &Folder, name: &str, factors: &str, rest: &str, record: &str) -> String {
    folder.scene(&Parts::default());
    folder.file(
        name,
        format!(
            "(title: \"A check <of> summaries (invented)\", scene: \"scene.ron\", factors: [{factors}], {rest}, \
             record: ({record}))\n"
        ),
    )
}

/// Two factors of a grid, three and four levels.
pub(crate) const GRID: &str = "(setting: \"horizontal_inclination_deg\", values: List([20.0, 30.0, 50.0])), \
    (setting: \"anterior_guide.sagittal_inclination_deg\", values: Range(from: 0.0, to: 30.0, steps: 3))";
pub(crate) const CLEARANCE: &str = "measures: [Clearance], advances_mm: [3.0]";

/// Runs a study into a table of this name.
pub(crate) fn table(folder: &Folder, study: &str, name: &str) -> String {
    let out = folder.shell(name);
    let left = run(&["study", "run", study, "--out", &out]);
    assert_eq!(left.status, 0, "{}", left.err);
    out
}

pub(crate) fn loaded(study: &str) -> Loaded {
    files::load(&files::Source::named(Path::new(study))).unwrap()
}

/// Some rows of a study as Parquet, in row groups of so many rows.
pub(crate) fn piece(folder: &Folder, study: &Loaded, name: &str, rows: Range<u64>, group: u64) -> String {
    let schema = study_run::schema(study);
    let mut writer =
        ArrowWriter::try_new(File::create(folder.path(name)).unwrap(), schema.clone(), None).unwrap();
    let mut batcher = Batcher::new(&study.prepared, &schema);
    let mut first = rows.start;
    while first < rows.end {
        let last = (first + group).min(rows.end);
        writer.write(&batcher.batch(first..last).unwrap()).unwrap();
        writer.flush().unwrap();
        first = last;
    }
    writer.close().unwrap();
    folder.shell(name)
}

/// Columns of numbers, by name.
pub(crate) type Columns = Vec<(String, Vec<f64>)>;

/// Every number column of a study computed here, by name, with the rows' reasons.
pub(crate) fn computed(study: &Loaded) -> (Columns, Vec<Option<String>>) {
    let prepared = &study.prepared;
    let places: Vec<usize> = (0..prepared.columns().len())
        .filter(|place| prepared.columns()[*place].kind == ColumnKind::Number)
        .collect();
    let mut columns: Columns =
        places.iter().map(|place| (prepared.columns()[*place].name.clone(), Vec::new())).collect();
    let mut reasons = Vec::new();
    let mut row = prepared.row_buffer();
    for number in 0..prepared.row_count() {
        prepared.compute(number, &mut row).unwrap();
        for (place, (_, column)) in places.iter().zip(&mut columns) {
            let Some(Cell::Number(number)) = row.cell(*place) else { panic!("no number") };
            column.push(number);
        }
        reasons.push(row.reason().map(str::to_owned));
    }
    (columns, reasons)
}

pub(crate) fn column<'c>(columns: &'c [(String, Vec<f64>)], name: &str) -> &'c [f64] {
    &columns.iter().find(|(own, _)| own == name).unwrap_or_else(|| panic!("{name}")).1
}

/// The summary of a table as JSON.
pub(crate) fn summary(table: &str, more: &[&str]) -> Value {
    let mut args = vec!["study", "summary", table, "--format", "json"];
    args.extend(more);
    json(&args)
}

/// What a summary says of a column.
pub(crate) fn of<'s>(summary: &'s Value, list: &str, name: &str) -> &'s Value {
    let all = summary[list].as_array().unwrap();
    all.iter().find(|own| own["name"] == name).unwrap_or_else(|| panic!("{name} in {list}"))
}
