//! The forms of a table in a file. A form turns rows into bytes group by group, so that groups can be
//! made by any thread and stand one after the other in the file.

mod bytes;
mod csv;
mod orders;
mod parquet;

use std::path::Path;

use arrow_array::RecordBatch;
use arrow_schema::SchemaRef;
use sim_core::study::Prepared;

use crate::error::RunError;

pub(crate) use bytes::Bytes;

/// The forms of a table.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Form {
    /// Apache Parquet: typed columns, units and the study itself in the file.
    Parquet,
    /// Comma-separated values: a comment with the caution, a line of names, then a line a row; nothing for what
    /// could not be measured. Numbers read back to the last bit.
    Csv,
}

impl Form {
    /// The form that a file's ending names.
    ///
    /// # Errors
    /// [`RunError::NoSuchForm`].
    pub fn of(path: &Path) -> Result<Self, RunError> {
        let ending = path.extension().map(|ending| ending.to_string_lossy().to_ascii_lowercase());
        match ending.as_deref() {
            Some("parquet") => Ok(Self::Parquet),
            Some("csv") => Ok(Self::Csv),
            _ => Err(RunError::NoSuchForm { name: words::quoted::path(path) }),
        }
    }

    /// In a word.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Parquet => "Parquet",
            Self::Csv => "CSV",
        }
    }

    pub(crate) fn encoder(self, schema: &SchemaRef, study: &Prepared) -> Result<Encoder, RunError> {
        Ok(match self {
            Self::Parquet => Encoder::Parquet(parquet::Encoder::new(schema, study)?),
            Self::Csv => Encoder::Csv(csv::Encoder::new(schema)),
        })
    }
}

/// What writes one form of one study's table.
pub(crate) enum Encoder {
    Parquet(parquet::Encoder),
    Csv(csv::Encoder),
}

/// A group of rows being encoded.
pub(crate) enum Group<'e> {
    Parquet(Box<parquet::Group<'e>>),
    Csv(csv::Group),
}

impl Encoder {
    /// What the file begins with.
    pub(crate) fn head(&self) -> Vec<u8> {
        match self {
            Self::Parquet(_) => parquet::MAGIC.to_vec(),
            Self::Csv(encoder) => encoder.head(),
        }
    }

    /// Begins a group; `bytes` is about how many it will have.
    pub(crate) fn group(&self, bytes: usize) -> Result<Group<'_>, RunError> {
        Ok(match self {
            Self::Parquet(encoder) => Group::Parquet(Box::new(encoder.group(bytes)?)),
            Self::Csv(_) => Group::Csv(csv::Group::default()),
        })
    }

    /// What the file ends with; `groups` are the places of its groups in the file and their notes.
    pub(crate) fn tail(
        &self,
        groups: impl Iterator<Item = Result<(u64, Vec<u8>), RunError>>,
    ) -> Result<Vec<u8>, RunError> {
        match self {
            Self::Parquet(encoder) => encoder.tail(groups),
            Self::Csv(_) => Ok(Vec::new()),
        }
    }
}

impl Group<'_> {
    /// Takes the next rows of the group.
    pub(crate) fn take(&mut self, rows: &RecordBatch) -> Result<(), RunError> {
        match self {
            Self::Parquet(group) => group.take(rows),
            Self::Csv(group) => group.take(rows),
        }
    }

    pub(crate) fn finish(self) -> Result<Bytes, RunError> {
        match self {
            Self::Parquet(group) => group.finish(),
            Self::Csv(group) => Ok(group.finish()),
        }
    }
}
