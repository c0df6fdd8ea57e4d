//! One column of numbers from a CSV file, whose lines that begin with `#` are comments, or from Parquet.

mod listed;
mod most;
#[cfg(feature = "parquet")]
mod parquet_file;

use std::io::ErrorKind;
use std::path::Path;

use csv::{ErrorKind as CsvErrorKind, ReaderBuilder, Trim};

use self::listed::listed;
use self::most::{MOST_NUMBERS, too_many};
use crate::folder::Folder;
use crate::open::{OpenError, without_mark};

/// A file above this holds no values of a factor.
const MOST_BYTES: u64 = 1_000_000_000;

/// The bytes of a file with columns.
///
/// # Errors
/// In words, without the file's name: who asks for them says it.
pub(crate) fn bytes<F: Folder + ?Sized>(folder: &F, file: &Path) -> Result<Vec<u8>, String> {
    folder.bytes(file, MOST_BYTES).map_err(|error| match error {
        OpenError::Folder => "is a folder; a CSV or Parquet file is needed".to_owned(),
        OpenError::NotAFile => "is no file; a CSV or Parquet file is needed".to_owned(),
        OpenError::TooLarge { .. } => format!("is larger than {} MB", MOST_BYTES / 1_000_000),
        OpenError::Unreadable { kind: ErrorKind::NotFound, .. } => "no such file".to_owned(),
        OpenError::Unreadable { why, .. } => format!("cannot be read: {why}"),
    })
}

/// The numbers of a column, by its name in a CSV file's first line or in a Parquet file's schema.
///
/// # Errors
/// In words, without the file's name and the column's: who asks for them says those.
pub(crate) fn numbers(bytes: Vec<u8>, column: &str) -> Result<Vec<f64>, String> {
    if is_parquet(&bytes) { from_parquet(bytes, column) } else { parse(&bytes, column) }
}

/// Whether a file says of itself that it is Parquet; a CSV does not begin so.
fn is_parquet(bytes: &[u8]) -> bool {
    bytes.starts_with(b"PAR1") && bytes.ends_with(b"PAR1")
}

#[cfg(feature = "parquet")]
fn from_parquet(bytes: Vec<u8>, column: &str) -> Result<Vec<f64>, String> {
    parquet_file::numbers(bytes, column)
}

#[cfg(not(feature = "parquet"))]
#[allow(clippy::needless_pass_by_value)] // as where it is read
fn from_parquet(_: Vec<u8>, _: &str) -> Result<Vec<f64>, String> {
    Err("is Parquet, which is not read here; give it as CSV".to_owned())
}

/// The numbers of a column of CSV.
fn parse(bytes: &[u8], column: &str) -> Result<Vec<f64>, String> {
    let mut reader =
        ReaderBuilder::new().comment(Some(b'#')).trim(Trim::All).from_reader(without_mark(bytes));
    let names = reader.headers().map_err(|error| in_words(&error))?;
    let Some(place) = names.iter().position(|name| name == column) else {
        return Err(match names.len() {
            0 => "the file is empty; its first line is to name its columns".to_owned(),
            _ => format!(
                "no column is called so; its first line has {}",
                listed(names.iter().collect::<Vec<_>>().into_iter())
            ),
        });
    };
    let mut numbers = Vec::new();
    for record in reader.records() {
        let record = record.map_err(|error| in_words(&error))?;
        let line = record.position().map_or(0, csv::Position::line);
        let cell = record.get(place).unwrap_or_default();
        match cell.parse::<f64>() {
            Ok(_) if numbers.len() == MOST_NUMBERS => return Err(too_many()),
            Ok(number) if number.is_finite() => numbers.push(number),
            _ => return Err(format!("line {line} has `{cell}`; a finite number is needed, as 31.5")),
        }
    }
    if numbers.is_empty() {
        return Err("there is nothing under the first line; at least one number is needed".to_owned());
    }
    Ok(numbers)
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
