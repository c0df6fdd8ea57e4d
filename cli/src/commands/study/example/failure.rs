//! No study of that name.

use crate::failure::{Failure, Status};

#[derive(Debug, thiserror::Error)]
#[error("no study is called `{name}`; there are {known}")]
pub(super) struct NoExample {
    pub(super) name: String,
    pub(super) known: String,
}

impl Failure for NoExample {
    fn status(&self) -> Status {
        Status::Wrong
    }
}
