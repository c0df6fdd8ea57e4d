//! Why no contacts are marked.

use sim_core::cast::NoSuchFilm;

use crate::failure::{Failure, Status};

#[derive(Debug, thiserror::Error)]
pub(super) enum ContactsFailure {
    #[error("--film: {0}")]
    Film(NoSuchFilm),
}

impl Failure for ContactsFailure {
    fn status(&self) -> Status {
        Status::Wrong
    }
}
