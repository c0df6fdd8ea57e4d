//! Lessons with faults.

use crate::failure::{Failure, Status};

#[derive(Debug, thiserror::Error)]
#[error("{}: {} of {lessons} lessons cannot be given; their faults are told in the report", .faulty.join(", "), .faulty.len())]
pub(super) struct Faulty {
    /// Their names.
    pub(super) faulty: Vec<String>,
    pub(super) lessons: usize,
}

impl Failure for Faulty {
    fn status(&self) -> Status {
        Status::Wrong
    }
}
