//! Of running studies.

use study_run::{LoadError, RunError};

use crate::failure::{Failure, Status};

impl Failure for LoadError {
    fn status(&self) -> Status {
        Status::Wrong
    }
}

impl Failure for RunError {
    fn status(&self) -> Status {
        if self.is_of_the_work() { Status::Failed } else { Status::Wrong }
    }
}
