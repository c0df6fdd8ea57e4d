//! Why no contacts are marked.

use report::contacts::PlaceError;
use sim_core::cast::{NoSuchFilm, TooIntricate};
use sim_core::excursion::ExcursionError;

use crate::failure::{Failure, Status};

#[derive(Debug, thiserror::Error)]
pub(super) enum ContactsFailure {
    #[error("--excursion {given}: there is no such excursion; those of this scene are {known}")]
    NoSuchExcursion { given: String, known: String },
    #[error("--excursion {name}: the scene makes none of it; say how far with --at")]
    NoEnd { name: String },
    #[error("--at: {0}")]
    At(ExcursionError),
    #[error("--film: {0}")]
    Film(NoSuchFilm),
    #[error("{name}: {error}")]
    Intricate { name: String, error: TooIntricate },
}

impl Failure for ContactsFailure {
    fn status(&self) -> Status {
        Status::Wrong
    }
}

impl From<PlaceError> for ContactsFailure {
    fn from(error: PlaceError) -> Self {
        match error {
            PlaceError::NoSuchExcursion { given, known } => Self::NoSuchExcursion { given, known },
            PlaceError::NoEnd { name } => Self::NoEnd { name },
            PlaceError::At(error) => Self::At(error),
        }
    }
}
