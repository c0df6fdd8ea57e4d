//! Why a remount tells nothing.

use files::TextError;
use report::remount::RemountFault;

use crate::failure::{Failure, Status};

#[derive(Debug, thiserror::Error)]
#[error("{name}: {fault}")]
pub(super) struct RemountFailure {
    pub(super) name: String,
    pub(super) fault: RemountFault,
}

/// The scene of a remount cannot be read.
#[derive(Debug, thiserror::Error)]
#[error("{error} (the scene of {remount})")]
pub(super) struct UnreadScene {
    pub(super) remount: String,
    pub(super) error: TextError,
}

impl Failure for UnreadScene {
    fn status(&self) -> Status {
        Status::Wrong
    }
}

impl Failure for RemountFailure {
    fn status(&self) -> Status {
        match self.fault {
            RemountFault::Remount(_) => Status::Wrong,
            RemountFault::NoPose(_) => Status::Failed,
        }
    }
}
