//! Rows of a CSV file: a list of columns gives the heads and what stands under them.

use std::io::{self, Write};

use ::csv::{ErrorKind, Writer, WriterBuilder};
use nalgebra::Vector3;
use serde::{Serialize, Serializer};

/// A column: its head, and what a row has under it.
pub struct Column<R> {
    head: &'static str,
    field: fn(&R) -> Field<'_>,
}

/// A column of rows of a kind.
pub fn column<R>(head: &'static str, field: fn(&R) -> Field<'_>) -> Column<R> {
    Column { head, field }
}

/// A row that knows its columns: one list, in the order of the file.
pub trait Row: Sized {
    /// The columns.
    fn columns() -> Vec<Column<Self>>;
}

/// What stands in a row under one head.
pub enum Field<'r> {
    /// Nothing.
    Empty,
    /// In as many digits as it takes to read the same number again.
    Number(f64),
    /// A whole number.
    Whole(u64),
    /// A word.
    Word(&'r str),
    /// `true` or `false`.
    Yes(bool),
}

impl Serialize for Field<'_> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        match *self {
            Self::Empty => serializer.serialize_str(""),
            Self::Number(number) => serializer.serialize_f64(number),
            Self::Whole(number) => serializer.serialize_u64(number),
            Self::Word(word) => serializer.serialize_str(&words::quoted::cell(word)),
            Self::Yes(yes) => serializer.serialize_bool(yes),
        }
    }
}

impl From<f64> for Field<'_> {
    fn from(number: f64) -> Self {
        Self::Number(number)
    }
}

impl From<u8> for Field<'_> {
    fn from(number: u8) -> Self {
        Self::Whole(number.into())
    }
}

impl From<usize> for Field<'_> {
    fn from(number: usize) -> Self {
        Self::Whole(number as u64)
    }
}

impl From<bool> for Field<'_> {
    fn from(yes: bool) -> Self {
        Self::Yes(yes)
    }
}

impl<'r> From<&'r str> for Field<'r> {
    fn from(word: &'r str) -> Self {
        Self::Word(word)
    }
}

impl<'r> From<&'r String> for Field<'r> {
    fn from(word: &'r String) -> Self {
        Self::Word(word)
    }
}

/// Empty where there is none.
impl<'r, T: Into<Self>> From<Option<T>> for Field<'r> {
    fn from(field: Option<T>) -> Self {
        field.map_or(Self::Empty, Into::into)
    }
}

/// A CSV file being written.
pub struct Rows<'o> {
    writer: Writer<&'o mut dyn Write>,
}

impl<'o> Rows<'o> {
    /// Starts with the heads of a kind of row.
    ///
    /// # Errors
    /// Those of what is written to.
    pub fn of<R: Row>(out: &'o mut dyn Write) -> io::Result<Self> {
        let mut rows = Self { writer: WriterBuilder::new().has_headers(false).from_writer(out) };
        rows.line(R::columns().iter().map(|column| column.head).collect::<Vec<_>>())?;
        Ok(rows)
    }

    /// Writes a row of the kind that the heads are of.
    ///
    /// # Errors
    /// Those of what is written to.
    pub fn put<R: Row>(&mut self, row: &R) -> io::Result<()> {
        self.line(R::columns().iter().map(|column| (column.field)(row)).collect::<Vec<_>>())
    }

    /// What the system said of a failed write is kept: a closed pipe is told by it.
    fn line(&mut self, fields: impl Serialize) -> io::Result<()> {
        self.writer.serialize(fields).map_err(|error| match error.into_kind() {
            ErrorKind::Io(error) => error,
            other => io::Error::other(format!("{other:?}")),
        })
    }

    /// Writes what is still held back.
    ///
    /// # Errors
    /// Those of what is written to.
    pub fn end(mut self) -> io::Result<()> {
        self.writer.flush()
    }
}

/// A number as it stands, but no −0, which rounding leaves of exact rest.
#[must_use]
pub fn exact(number: f64) -> f64 {
    number + 0.0
}

/// As [`exact`], of a place.
#[must_use]
pub fn exact_coordinates(place: &Vector3<f64>) -> [f64; 3] {
    [place.x, place.y, place.z].map(exact)
}
