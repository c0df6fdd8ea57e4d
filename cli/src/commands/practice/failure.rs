//! Why nothing is dealt or marked.

use sim_core::practice::MarkError;

use crate::failure::{Failure, Status};

#[derive(Debug, thiserror::Error)]
pub(super) enum PracticeFailure {
    #[error("{name}: {error}")]
    Unmarked { name: String, error: MarkError },
    #[error("{name}: already exists; `practice deal` never overwrites. Choose another folder and key")]
    AlreadyThere { name: String },
    #[error("--key {name}: lies in the folder that is handed out; keep it elsewhere")]
    KeyHandedOut { name: String },
}

impl Failure for PracticeFailure {
    fn status(&self) -> Status {
        match self {
            Self::Unmarked { error: MarkError::NoSettings { .. }, .. } => Status::Failed,
            _ => Status::Wrong,
        }
    }
}
