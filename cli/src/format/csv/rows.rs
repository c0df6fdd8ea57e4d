//! Rows of a CSV file, one after the other, under their heads.

use std::io::{self, Write};

use ::csv::{ErrorKind, Writer, WriterBuilder};
use serde::Serialize;

/// A CSV file being written.
pub(super) struct Rows<'o> {
    writer: Writer<&'o mut dyn Write>,
}

impl<'o> Rows<'o> {
    /// Starts with the heads of the columns. Rows are written by value and have no names from which
    /// heads could be made.
    pub(super) fn under(heads: &[&str], out: &'o mut dyn Write) -> io::Result<Self> {
        let mut rows = Self { writer: WriterBuilder::new().has_headers(false).from_writer(out) };
        rows.put(heads)?;
        Ok(rows)
    }

    /// Writes a row; tuples within it are written flat. What the system said of a failed write is
    /// kept: a closed pipe is told by it.
    pub(super) fn put(&mut self, row: impl Serialize) -> io::Result<()> {
        self.writer.serialize(row).map_err(|error| match error.into_kind() {
            ErrorKind::Io(error) => error,
            other => io::Error::other(format!("{other:?}")),
        })
    }

    /// Writes what is still held back.
    pub(super) fn end(mut self) -> io::Result<()> {
        self.writer.flush()
    }
}
