//! Why no pair is written.

use files::SceneCastsError;

use crate::failure::{Failure, Status};

#[derive(Debug, thiserror::Error)]
pub(super) enum CastsFailure {
    #[error("{name}: has no invented_casts; give a scene that has, or none and --kind")]
    NoInventedCasts { name: String },
    #[error("{name}: {error}")]
    Casts { name: String, error: Box<SceneCastsError> },
}

impl Failure for CastsFailure {
    fn status(&self) -> Status {
        Status::Wrong
    }
}
