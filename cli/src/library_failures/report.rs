//! Of summaries of studies.

use report::study::SummaryError;

use crate::failure::{Failure, Status};

impl Failure for SummaryError {
    fn status(&self) -> Status {
        Status::Wrong
    }
}
