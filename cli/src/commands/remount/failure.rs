//! Why a remount tells nothing.

use report::remount::RemountFault;

use crate::failure::{Failure, Status};

#[derive(Debug, thiserror::Error)]
#[error("{name}: {fault}")]
pub(super) struct RemountFailure {
    pub(super) name: String,
    pub(super) fault: RemountFault,
}

impl Failure for RemountFailure {
    fn status(&self) -> Status {
        match self.fault {
            RemountFault::Remount(_) => Status::Wrong,
            RemountFault::NoPose(_) => Status::Failed,
        }
    }
}
