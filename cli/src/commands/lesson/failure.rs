//! Lessons with faults.

use crate::failure::{Failure, Status};

#[derive(Debug, thiserror::Error)]
#[error("{faulty} of {lessons} lessons cannot be given")]
pub(super) struct Faulty {
    pub(super) faulty: usize,
    pub(super) lessons: usize,
}

impl Failure for Faulty {
    fn status(&self) -> Status {
        Status::Wrong
    }
}
