//! Of figures and summaries.

use crate::failure::{Failure, Status};
use crate::study::SummaryError;

impl Failure for SummaryError {
    fn status(&self) -> Status {
        match self {
            Self::PlotsFolder { .. } => Status::Failed,
            _ => Status::Wrong,
        }
    }
}
