//! A table in pieces: groups of rows that are made anywhere, by whoever has the study, and put one after the other
//! by somebody else, wherever they are to stand. Together they are the bytes that [`crate::run`] writes.

use arrow_schema::SchemaRef;
use files::Loaded;

use crate::error::RunError;
use crate::form::{Encoder, Form};
use crate::groups::{Grouping, Maker};
use crate::table::schema;

/// The pieces of one study's table.
pub struct Pieces<'l> {
    loaded: &'l Loaded,
    schema: SchemaRef,
    encoder: Encoder,
    grouping: Grouping,
}

/// A group of rows as it stands in the table.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Piece {
    /// Its bytes.
    pub body: Vec<u8>,
    /// What the table's end has to know of it.
    pub note: Vec<u8>,
    /// Its number of rows.
    pub rows: u64,
    /// Rows with a reason why something could not be measured.
    pub with_reason: u64,
}

impl<'l> Pieces<'l> {
    /// The pieces of the table in that form.
    ///
    /// # Errors
    /// [`RunError`] for a schema that the form does not take.
    pub fn new(loaded: &'l Loaded, form: Form) -> Result<Self, RunError> {
        let schema = schema(loaded);
        let encoder = form.encoder(&schema, &loaded.prepared)?;
        Ok(Self { loaded, schema, encoder, grouping: Grouping::of(&loaded.prepared) })
    }

    /// Number of groups.
    #[must_use]
    pub fn count(&self) -> u64 {
        self.grouping.count(&(0..self.loaded.prepared.row_count()))
    }

    /// What stands before the first group.
    #[must_use]
    pub fn head(&self) -> Vec<u8> {
        self.encoder.head()
    }

    /// A group by its number from 0, computed on this thread; nothing once `stopped` says so, or past the last.
    ///
    /// # Errors
    /// [`RunError`] for a fault of the program.
    pub fn piece(&self, number: u64, stopped: &(dyn Fn() -> bool + Sync)) -> Result<Option<Piece>, RunError> {
        if number >= self.count() {
            return Ok(None);
        }
        let rows = self.grouping.group(&(0..self.loaded.prepared.row_count()), number);
        let maker = Maker::new(&self.loaded.prepared, &self.schema, &self.encoder, false);
        let made = maker.make(rows, stopped)?;
        Ok(made.map(|group| Piece {
            body: group.bytes.body().to_vec(),
            note: group.bytes.note,
            rows: group.rows.end - group.rows.start,
            with_reason: group.with_reason,
        }))
    }

    /// What stands behind the last group: made of each group's place in the table, in bytes, and its note.
    ///
    /// # Errors
    /// [`RunError`] for notes of something else.
    pub fn tail(&self, groups: impl IntoIterator<Item = (u64, Vec<u8>)>) -> Result<Vec<u8>, RunError> {
        self.encoder.tail(groups.into_iter().map(Ok))
    }
}
