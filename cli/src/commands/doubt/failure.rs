//! Why nobody can say how far to trust a case.

use sim_core::doubt::DoubtError;

use crate::failure::{Failure, Status};

#[derive(Debug, thiserror::Error)]
pub(super) enum DoubtFailure {
    #[error("{name}: {error}")]
    Undrawn { name: String, error: DoubtError },
}

impl Failure for DoubtFailure {
    fn status(&self) -> Status {
        match self {
            Self::Undrawn { error: DoubtError::Draws { .. } | DoubtError::OutOfBounds(_), .. } => {
                Status::Wrong
            }
            Self::Undrawn { .. } => Status::Failed,
        }
    }
}
