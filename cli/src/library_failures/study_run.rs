//! Of running studies.

use study_run::RunError;

use crate::failure::{Failure, Status};

impl Failure for RunError {
    fn status(&self) -> Status {
        match self {
            Self::Closed => Status::Closed,
            of_the_work if of_the_work.is_of_the_work() => Status::Failed,
            _ => Status::Wrong,
        }
    }
}
