//! Why there is no summary.

use files::LoadError;
use sim_core::study::StudyError;
use sim_core::text::ReadError;

use super::table::TableError;

/// Why a study's table is not summed up.
#[derive(Debug, thiserror::Error)]
#[allow(missing_docs)] // the message of each says what its fields are
pub enum SummaryError {
    #[error(transparent)]
    Table(#[from] TableError),
    #[error(transparent)]
    Study(#[from] LoadError),
    #[error(
        "{name}: says nothing of its study (a CSV holds only numbers); name the study's file with --study"
    )]
    NoStudy { name: String },
    #[error("{name}: the study in it cannot be read: {error}; name the study's file with --study")]
    Unread { name: String, error: ReadError },
    #[error("{name}: the study in it cannot be made ready: {error}; name the study's file with --study")]
    Unready { name: String, error: Box<StudyError> },
    #[error("{name}: was made by another study than {study}, or by that study before it was changed")]
    OtherStudy { name: String, study: String },
    #[error("{first} and {second} are tables of different studies; a summary is of one study")]
    Mixed { first: String, second: String },
    #[error(
        "{name}: is no table of {study}: `{column}` of row {row} is {is}, and the study gives {should_be}"
    )]
    OtherNumbers { name: String, study: String, row: u64, column: String, is: f64, should_be: f64 },
    #[error("{name}: holds {rows} rows from row {first} on, and the study has only {most}")]
    TooManyRows { name: String, first: u64, rows: u64, most: u64 },
    #[error("{option} {given}: no {what} of the study has that in its name; {known}")]
    NoSuchColumn { option: &'static str, given: String, what: &'static str, known: String },
    #[error("--factor {given}: is named twice; a heat map needs two different factors")]
    SameFactor { given: String },
}
