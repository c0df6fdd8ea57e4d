//! Columns of numbers from a CSV file, whose lines that begin with `#` are comments, or from Parquet.

mod files_of;
mod listed;
mod most;
#[cfg(feature = "parquet")]
mod parquet_file;

use std::io::ErrorKind;
use std::path::Path;

use csv::{ErrorKind as CsvErrorKind, ReaderBuilder, StringRecord, Trim};

pub(crate) use self::files_of::ColumnFiles;
use self::listed::listed;
use self::most::{MOST_NUMBERS, too_many};
use crate::folder::Folder;
use crate::open::{OpenError, without_mark};

/// A file above this holds no values of a factor.
const MOST_BYTES: u64 = 1_000_000_000;

/// The numbers of a column, or in words, without the file's name and the column's, why there are none.
pub(crate) type Numbers = Result<Vec<f64>, String>;

/// The bytes of a file with columns.
///
/// # Errors
/// In words, without the file's name: who asks for them says it.
fn bytes<F: Folder + ?Sized>(folder: &F, file: &Path) -> Result<Vec<u8>, String> {
    folder.bytes(file, MOST_BYTES).map_err(|error| match error {
        OpenError::Folder => "is a folder; a CSV or Parquet file is needed".to_owned(),
        OpenError::NotAFile => "is no file; a CSV or Parquet file is needed".to_owned(),
        OpenError::TooLarge { .. } => format!("is larger than {} MB", MOST_BYTES / 1_000_000),
        OpenError::Unreadable { kind: ErrorKind::NotFound, .. } => "no such file".to_owned(),
        OpenError::Unreadable { why, .. } => format!("cannot be read: {why}"),
    })
}

/// The numbers of columns, each by its name in a CSV file's first line or in a Parquet file's schema.
fn numbers(bytes: Vec<u8>, columns: &[&str]) -> Vec<Numbers> {
    if is_parquet(&bytes) { from_parquet(bytes, columns) } else { parse(&bytes, columns) }
}

/// Whether a file says of itself that it is Parquet; a CSV does not begin so.
fn is_parquet(bytes: &[u8]) -> bool {
    bytes.starts_with(b"PAR1") && bytes.ends_with(b"PAR1")
}

#[cfg(feature = "parquet")]
fn from_parquet(bytes: Vec<u8>, columns: &[&str]) -> Vec<Numbers> {
    let bytes = bytes::Bytes::from(bytes);
    columns.iter().map(|column| parquet_file::numbers(bytes.clone(), column)).collect()
}

#[cfg(not(feature = "parquet"))]
#[allow(clippy::needless_pass_by_value)] // as where it is read
fn from_parquet(_: Vec<u8>, columns: &[&str]) -> Vec<Numbers> {
    columns.iter().map(|_| Err("is Parquet, which is not read here; give it as CSV".to_owned())).collect()
}

/// The numbers of columns of CSV, in one pass.
fn parse(bytes: &[u8], columns: &[&str]) -> Vec<Numbers> {
    let mut reader =
        ReaderBuilder::new().comment(Some(b'#')).trim(Trim::All).from_reader(without_mark(bytes));
    let names = match reader.headers() {
        Ok(names) => names.clone(),
        Err(error) => return columns.iter().map(|_| Err(in_words(&error))).collect(),
    };
    let mut read: Vec<(usize, Numbers)> = columns.iter().map(|column| begun(&names, column)).collect();
    for record in reader.records() {
        if read.iter().all(|(_, numbers)| numbers.is_err()) {
            break;
        }
        for (place, own) in &mut read {
            let Ok(numbers) = own else { continue };
            if let Err(why) =
                record.as_ref().map_err(in_words).and_then(|record| next(record, *place, numbers))
            {
                *own = Err(why);
            }
        }
    }
    let some = |numbers: Vec<f64>| {
        if numbers.is_empty() {
            return Err("there is nothing under the first line; at least one number is needed".to_owned());
        }
        Ok(numbers)
    };
    read.into_iter().map(|(_, numbers)| numbers.and_then(some)).collect()
}

/// Where a column stands, and its numbers, none of them read.
fn begun(names: &StringRecord, column: &str) -> (usize, Numbers) {
    match names.iter().position(|name| name == column) {
        Some(place) => (place, Ok(Vec::new())),
        None if names.is_empty() => {
            (0, Err("the file is empty; its first line is to name its columns".to_owned()))
        }
        None => {
            let known = listed(names.iter().collect::<Vec<_>>().into_iter());
            (0, Err(format!("no column is called so; its first line has {known}")))
        }
    }
}

/// Puts the number of a line behind those before it.
fn next(record: &StringRecord, place: usize, numbers: &mut Vec<f64>) -> Result<(), String> {
    let line = record.position().map_or(0, csv::Position::line);
    let cell = record.get(place).unwrap_or_default();
    match cell.parse::<f64>() {
        Ok(_) if numbers.len() == MOST_NUMBERS => Err(too_many()),
        Ok(number) if number.is_finite() => {
            numbers.push(number);
            Ok(())
        }
        _ => Err(format!("line {line} has `{cell}`; a finite number is needed, as 31.5")),
    }
}

fn in_words(error: &csv::Error) -> String {
    match error.kind() {
        CsvErrorKind::UnequalLengths { pos, expected_len, len } => {
            let line = pos.as_ref().map_or(0, csv::Position::line);
            format!("line {line} has {len} cells where the first has {expected_len}")
        }
        CsvErrorKind::Utf8 { pos, .. } => {
            let line = pos.as_ref().map_or(0, csv::Position::line);
            format!("line {line} is not UTF-8 text")
        }
        _ => error.to_string(),
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    /// Bytes of a table, in which now and then something is wrong.
    fn table() -> impl Strategy<Value = String> {
        let cell = prop_oneof![8 => (-99..99_i32).prop_map(|n| n.to_string()), 1 => "[a-c ,\\n\"#]{0,2}"];
        let line = prop::collection::vec(cell, 3).prop_map(|cells| cells.join(","));
        prop::collection::vec(line, 0..12).prop_map(|lines| format!("a,b,c\n{}", lines.join("\n")))
    }

    proptest! {
        #[test]
        fn columns_read_together_are_those_read_one_by_one(text in table()) {
            let columns = ["b", "none", "a", "b"];
            let alone = columns.map(|column| parse(text.as_bytes(), &[column]).remove(0));
            prop_assert_eq!(parse(text.as_bytes(), &columns), alone);
        }
    }

    #[test]
    fn what_is_wrong_in_one_column_is_not_wrong_in_another() {
        let read = parse(b"a,b\n1,2\n3,x\n5,6\n", &["a", "b"]);
        assert_eq!(read[0], Ok(vec![1.0, 3.0, 5.0]));
        assert_eq!(read[1], Err("line 3 has `x`; a finite number is needed, as 31.5".to_owned()));
    }
}
