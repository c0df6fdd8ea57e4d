//! Comma-separated values.

use std::io::Write as _;

use arrow_array::cast::AsArray as _;
use arrow_array::types::{Float64Type, UInt64Type};
use arrow_array::{Array as _, ArrayRef, RecordBatch};
use arrow_schema::{DataType, SchemaRef};

use super::bytes::Bytes;
use crate::error::RunError;

pub(crate) struct Encoder {
    schema: SchemaRef,
}

impl Encoder {
    pub(super) fn new(schema: &SchemaRef) -> Self {
        Self { schema: SchemaRef::clone(schema) }
    }

    /// The caution, then the line of names.
    pub(super) fn head(&self) -> Vec<u8> {
        let mut line = words::caution::csv_line().into_bytes();
        for (place, field) in self.schema.fields().iter().enumerate() {
            separate(place, &mut line);
            text(field.name(), &mut line);
        }
        line.push(b'\n');
        line
    }
}

#[derive(Default)]
pub(crate) struct Group {
    lines: Vec<u8>,
}

/// One column of a batch, found to be of its kind.
enum Cells<'a> {
    Numbers(&'a arrow_array::Float64Array),
    Rows(&'a arrow_array::UInt64Array),
    Texts(&'a arrow_array::StringArray),
    Flags(&'a arrow_array::BooleanArray),
}

impl Group {
    pub(super) fn take(&mut self, rows: &RecordBatch) -> Result<(), RunError> {
        let columns: Vec<Cells<'_>> = rows.columns().iter().map(cells).collect::<Result<_, _>>()?;
        for row in 0..rows.num_rows() {
            for (place, column) in columns.iter().enumerate() {
                separate(place, &mut self.lines);
                self.cell(column, row);
            }
            self.lines.push(b'\n');
        }
        Ok(())
    }

    fn cell(&mut self, column: &Cells<'_>, row: usize) {
        match column {
            Cells::Numbers(numbers) if numbers.is_valid(row) => {
                let mut digits = ryu::Buffer::new();
                self.lines.extend_from_slice(digits.format(numbers.value(row)).as_bytes());
            }
            Cells::Rows(rows) => {
                // Writing to memory does not fail.
                let _ = write!(self.lines, "{}", rows.value(row));
            }
            Cells::Texts(texts) if texts.is_valid(row) => text(texts.value(row), &mut self.lines),
            Cells::Flags(flags) if flags.is_valid(row) => {
                self.lines.extend_from_slice(if flags.value(row) { b"true" } else { b"false" });
            }
            _ => {}
        }
    }

    pub(super) fn finish(self) -> Bytes {
        Bytes { buffer: self.lines, skipped: 0, note: Vec::new() }
    }
}

fn cells(array: &ArrayRef) -> Result<Cells<'_>, RunError> {
    Ok(match array.data_type() {
        DataType::Float64 => Cells::Numbers(array.as_primitive::<Float64Type>()),
        DataType::UInt64 => Cells::Rows(array.as_primitive::<UInt64Type>()),
        DataType::Utf8 => Cells::Texts(array.as_string::<i32>()),
        DataType::Boolean => Cells::Flags(array.as_boolean()),
        other => return Err(RunError::Fault(format!("a table has no column of {other}"))),
    })
}

fn separate(place: usize, line: &mut Vec<u8>) {
    if place > 0 {
        line.push(b',');
    }
}

/// Words, in quotes where they would be taken for something else (RFC 4180).
fn text(words: &str, line: &mut Vec<u8>) {
    let words = words::quoted::cell(words);
    if !words.contains([',', '"', '\n', '\r']) {
        line.extend_from_slice(words.as_bytes());
        return;
    }
    line.push(b'"');
    line.extend_from_slice(words.replace('"', "\"\"").as_bytes());
    line.push(b'"');
}
