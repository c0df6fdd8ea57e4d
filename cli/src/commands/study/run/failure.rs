//! Why a study is not run to its end.

use crate::failure::{Failure, Status};

#[derive(Debug, thiserror::Error)]
pub(super) enum StudyRunFailure {
    /// What was computed before is there, to be read and gone on with.
    #[error("{name}: stopped with {rows} of {of} rows in it; run again with --resume to go on")]
    Stopped { name: String, rows: String, of: String },
    #[error("stopped with {rows} of {of} rows on standard output")]
    Cut { rows: String, of: String },
    #[error(
        "a study from standard input has no name for its table; give one with --out, or - for standard output"
    )]
    NoTableNamed,
}

impl Failure for StudyRunFailure {
    fn status(&self) -> Status {
        match self {
            Self::Stopped { .. } | Self::Cut { .. } => Status::Failed,
            Self::NoTableNamed => Status::Wrong,
        }
    }
}
