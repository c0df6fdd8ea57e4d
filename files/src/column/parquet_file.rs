//! One column of numbers from a Parquet file.

use bytes::Bytes;
use parquet::column::reader::{ColumnReader, ColumnReaderImpl};
use parquet::data_type::DataType;
use parquet::errors::ParquetError;
use parquet::file::reader::{FileReader as _, SerializedFileReader};

use super::listed::listed;
use super::most::{MOST_NUMBERS, too_many};

/// Rows read at a time.
const AT_ONCE: usize = 8192;

/// The numbers of a column, whole ones included.
pub(super) fn numbers(bytes: Bytes, column: &str) -> Result<Vec<f64>, String> {
    let reader = SerializedFileReader::new(bytes).map_err(unread)?;
    let schema = reader.metadata().file_metadata().schema_descr_ptr();
    let names: Vec<String> = schema.columns().iter().map(|column| column.path().string()).collect();
    let Some(place) = names.iter().position(|name| name == column) else {
        let names: Vec<&str> = names.iter().map(String::as_str).collect();
        return Err(format!("no column is called so; the file has {}", listed(names.into_iter())));
    };
    let most = schema.column(place).max_def_level();
    if schema.column(place).max_rep_level() > 0 {
        return Err("has lists in its rows; a finite number is needed in each".to_owned());
    }
    let mut numbers = Vec::new();
    for group in 0..reader.num_row_groups() {
        let group = reader.get_row_group(group).map_err(unread)?;
        let rows = usize::try_from(group.metadata().num_rows()).unwrap_or_default();
        if rows > MOST_NUMBERS - numbers.len() {
            return Err(too_many());
        }
        #[allow(clippy::cast_precision_loss)] // what a number beyond 2^53 loses, no setting has
        match group.get_column_reader(place).map_err(unread)? {
            ColumnReader::DoubleColumnReader(own) => read(own, rows, most, &mut numbers, |number| number)?,
            ColumnReader::FloatColumnReader(own) => read(own, rows, most, &mut numbers, f64::from)?,
            ColumnReader::Int32ColumnReader(own) => read(own, rows, most, &mut numbers, f64::from)?,
            ColumnReader::Int64ColumnReader(own) => {
                read(own, rows, most, &mut numbers, |number| number as f64)?;
            }
            _ => return Err("holds no numbers; floating-point or whole numbers are needed".to_owned()),
        }
    }
    if numbers.is_empty() {
        return Err("there are no rows; at least one number is needed".to_owned());
    }
    Ok(numbers)
}

/// Reads a row group's column; each row is to have a finite number.
fn read<T: DataType>(
    mut reader: ColumnReaderImpl<T>,
    rows: usize,
    most: i16,
    numbers: &mut Vec<f64>,
    number: impl Fn(T::T) -> f64,
) -> Result<(), String> {
    let end = numbers.len() + rows;
    let needed = "a finite number is needed, as 31.5";
    while numbers.len() < end {
        let first = numbers.len();
        let (mut levels, mut values) = (Vec::new(), Vec::new());
        let (records, ..) = reader
            .read_records(AT_ONCE.min(end - first), Some(&mut levels), None, &mut values)
            .map_err(unread)?;
        if records == 0 {
            return Err("ends before its last row".to_owned());
        }
        if let Some(empty) = levels.iter().position(|level| *level < most) {
            return Err(format!("row {} (the first is 1) is empty; {needed}", first + empty + 1));
        }
        for (at, value) in values.into_iter().enumerate() {
            let value = number(value);
            if !value.is_finite() {
                return Err(format!("row {} (the first is 1) has {value}; {needed}", first + at + 1));
            }
            numbers.push(value);
        }
    }
    Ok(())
}

#[allow(clippy::needless_pass_by_value)] // given by map_err
fn unread(error: ParquetError) -> String {
    format!("cannot be read as Parquet: {error}")
}
