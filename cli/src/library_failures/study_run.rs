//! Of running studies.

use study_run::RunError;

use crate::failure::{Failure, Status};

impl Failure for RunError {
    fn status(&self) -> Status {
        if self.is_of_the_work() { Status::Failed } else { Status::Wrong }
    }
}
