//! What stands in the files, read by other means than wrote it where there are some.

use std::fs::{self, File};
use std::path::Path;

use arrow_array::cast::AsArray as _;
use arrow_array::types::{Float64Type, UInt64Type};
use arrow_array::{Array as _, RecordBatch};
use arrow_schema::DataType;
use parquet::arrow::arrow_reader::ParquetRecordBatchReaderBuilder;
use study_run::{Existing, batch, key};

use crate::support::{Folder, ROWS, STUDY, bytes_of, options, ran, stopped};

/// One row, each cell as text from which a number comes back to the last bit.
fn lines_of(table: &RecordBatch) -> Vec<String> {
    let cell = |column: usize, row: usize| {
        let array = table.column(column);
        if array.is_null(row) {
            return String::new();
        }
        match array.data_type() {
            DataType::Float64 => format!("{:x}", array.as_primitive::<Float64Type>().value(row).to_bits()),
            DataType::UInt64 => array.as_primitive::<UInt64Type>().value(row).to_string(),
            DataType::Boolean => array.as_boolean().value(row).to_string(),
            _ => array.as_string::<i32>().value(row).to_owned(),
        }
    };
    let line = |row| (0..table.num_columns()).map(|column| cell(column, row)).collect::<Vec<_>>().join("|");
    (0..table.num_rows()).map(line).collect()
}

/// The rows of a Parquet file.
pub(crate) fn rows_of(path: &Path) -> Vec<String> {
    let reader = ParquetRecordBatchReaderBuilder::try_new(File::open(path).unwrap()).unwrap().build();
    reader.unwrap().flat_map(|table| lines_of(&table.unwrap())).collect()
}

/// The lines of a CSV file without the caution and the names.
pub(crate) fn csv_lines(path: &Path) -> Vec<String> {
    let text = fs::read_to_string(path).unwrap();
    let rows = text.strip_prefix(&format!("# {}\n", words::CAUTION)).unwrap();
    rows.lines().skip(1).map(str::to_owned).collect()
}

#[test]
fn a_parquet_file_holds_the_rows_and_the_study() {
    let folder = Folder::new();
    let path = folder.path("table.parquet");
    bytes_of(&STUDY, &options(&path, Existing::Refused));
    assert_eq!(rows_of(&path), lines_of(&batch(&STUDY, 0..ROWS).unwrap()));
    let reader = ParquetRecordBatchReaderBuilder::try_new(File::open(&path).unwrap()).unwrap();
    assert_eq!(*reader.schema(), study_run::schema(&STUDY));
    let file = reader.metadata().file_metadata();
    assert_eq!(file.num_rows(), ROWS as i64);
    let said = file.key_value_metadata().unwrap();
    let sha = said.iter().find(|own| own.key == key::STUDY_SHA256).unwrap();
    assert_eq!(sha.value.as_deref(), Some(STUDY.sha256()));
    let groups = reader.metadata().row_groups();
    assert!(groups.len() > 3, "groups are moved to where they stand: {}", groups.len());
    assert_eq!(folder.names(), ["table.parquet"]);
}

#[test]
fn csv_and_parquet_hold_the_same_numbers_to_the_last_bit() {
    let folder = Folder::new();
    let path = folder.path("table.csv");
    bytes_of(&STUDY, &options(&path, Existing::Refused));
    let table = batch(&STUDY, 0..ROWS).unwrap();
    let mut reader = csv::ReaderBuilder::new().comment(Some(b'#')).from_path(&path).unwrap();
    let schema = table.schema();
    assert!(reader.headers().unwrap().iter().eq(schema.fields().iter().map(|field| field.name().as_str())));
    let lines = reader.records().map(|record| {
        let record = record.unwrap();
        let cell = |(field, cell): (&arrow_schema::FieldRef, &str)| match field.data_type() {
            DataType::Float64 if !cell.is_empty() => format!("{:x}", cell.parse::<f64>().unwrap().to_bits()),
            _ => cell.to_owned(),
        };
        schema.fields().iter().zip(&record).map(cell).collect::<Vec<_>>().join("|")
    });
    assert!(lines.eq(lines_of(&table)));
}

#[test]
fn rows_without_a_pose_are_kept_with_their_reason_and_counted() {
    let folder = Folder::new();
    let path = folder.path("table.csv");
    let finished = ran(&STUDY, &options(&path, Existing::Refused)).unwrap();
    let lines = csv_lines(&path);
    assert_eq!(lines.len() as u64, ROWS);
    let with_reason = lines.iter().filter(|line| !line.ends_with(',')).count() as u64;
    assert!(0 < with_reason && with_reason < ROWS);
    assert_eq!(finished.with_reason, Some(with_reason));
    let out_of_range = lines.iter().find(|line| line.contains("horizontal_inclination_deg")).unwrap();
    assert!(out_of_range.contains(",,,,"), "nothing is measured there: {out_of_range}");
}

#[test]
fn a_stopped_run_leaves_a_table_that_can_be_read() {
    let folder = Folder::new();
    let whole = lines_of(&batch(&STUDY, 0..ROWS).unwrap());
    let path = folder.path("table.parquet");
    let finished = stopped(&STUDY, &options(&path, Existing::Refused), 64);
    let left = finished.path.unwrap();
    assert_eq!(left, folder.path("table.unfinished.parquet"));
    assert!(!path.exists());
    assert_eq!(rows_of(&left), whole[..finished.rows as usize]);

    let path = folder.path("table.csv");
    let finished = stopped(&STUDY, &options(&path, Existing::Refused), 64);
    assert_eq!(csv_lines(&finished.path.unwrap()).len() as u64, finished.rows);
}
