//! Why there is no page.

use crate::failure::{Failure, Status};

#[derive(Debug, thiserror::Error)]
pub(super) enum ManualFailure {
    #[error("no command is called `{given}`; the commands are {known}")]
    NoSuchCommand { given: String, known: String },
}

impl Failure for ManualFailure {
    fn status(&self) -> Status {
        Status::Wrong
    }
}
