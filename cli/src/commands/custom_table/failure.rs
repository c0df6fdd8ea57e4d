//! Why there is no table.

use sim_core::occlusion::NoTable;

use crate::failure::{Failure, Status};

#[derive(Debug, thiserror::Error)]
pub(super) enum CustomTableFailure {
    #[error("{name}: {error}")]
    NoTable { name: String, error: NoTable },
}

impl Failure for CustomTableFailure {
    fn status(&self) -> Status {
        match self {
            Self::NoTable { error: NoTable::Size { .. }, .. } => Status::Wrong,
            Self::NoTable { .. } => Status::Failed,
        }
    }
}
