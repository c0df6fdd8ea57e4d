//! Why a summary is not written.

use std::io;

use crate::failure::{Failure, Status};

#[derive(Debug, thiserror::Error)]
pub(super) enum SummaryFailure {
    #[error("--plots {name}: is a file; a folder is needed, and is made where there is none")]
    PlotsNoFolder { name: String },
    #[error("--plots {name}: cannot be made: {error}")]
    PlotsFolder { name: String, error: io::Error },
    #[error("--report {name}: unknown file extension; use .html")]
    NoPage { name: String },
}

impl Failure for SummaryFailure {
    fn status(&self) -> Status {
        match self {
            Self::PlotsFolder { .. } => Status::Failed,
            Self::PlotsNoFolder { .. } | Self::NoPage { .. } => Status::Wrong,
        }
    }
}
