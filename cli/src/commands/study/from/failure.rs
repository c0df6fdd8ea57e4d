//! Why a case is no study.

use sim_core::doubt::{DoubtError, NoStudy};

use crate::failure::{Failure, Status};

#[derive(Debug, thiserror::Error)]
pub(super) enum StudyFromFailure {
    #[error("{name}: {error}")]
    Undrawn { name: String, error: DoubtError },
    #[error("{name}: {error}")]
    NoStudy { name: String, error: NoStudy },
}

impl Failure for StudyFromFailure {
    fn status(&self) -> Status {
        match self {
            Self::Undrawn { error: DoubtError::Draws { .. }, .. } => Status::Wrong,
            Self::Undrawn { .. } | Self::NoStudy { .. } => Status::Failed,
        }
    }
}
