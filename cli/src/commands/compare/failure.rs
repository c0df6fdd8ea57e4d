//! Why nothing is compared.

use crate::failure::{Failure, Status};

#[derive(Debug, thiserror::Error)]
pub(super) enum CompareFailure {
    #[error("nothing to compare; give a second scene, or changes as in --with horizontal_inclination_deg=40")]
    NothingToCompare,
    #[error(
        "two scenes and changes of settings (--with) are given; compare two scenes, or one scene and its changes"
    )]
    TooMuchToCompare,
}

impl Failure for CompareFailure {
    fn status(&self) -> Status {
        Status::Wrong
    }
}
