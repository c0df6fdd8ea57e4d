//! Why a case is no study.

use sim_core::doubt::{DoubtError, NoStudy};

use crate::failure::{Failure, Status};

#[derive(Debug, thiserror::Error)]
pub(super) enum StudyFromFailure {
    #[error("{}{error}", place(.name, .error))]
    Undrawn { name: String, error: DoubtError },
    #[error("{name}: {error}")]
    NoStudy { name: String, error: NoStudy },
}

/// Where the fault is: in the option, or in the case.
fn place(name: &str, error: &DoubtError) -> String {
    if matches!(error, DoubtError::Draws { .. }) { "--draws: ".to_owned() } else { format!("{name}: ") }
}

impl Failure for StudyFromFailure {
    fn status(&self) -> Status {
        match self {
            Self::Undrawn { error: DoubtError::Draws { .. }, .. } => Status::Wrong,
            Self::Undrawn { .. } | Self::NoStudy { .. } => Status::Failed,
        }
    }
}
