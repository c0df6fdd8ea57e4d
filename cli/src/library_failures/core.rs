//! Of the maths.

use sim_core::practice::DealError;

use crate::failure::{Failure, Status};

impl Failure for DealError {
    fn status(&self) -> Status {
        match self {
            Self::NotShown { .. } => Status::Wrong,
            Self::NoPatient { .. } | Self::OtherVersion { .. } => Status::Failed,
        }
    }
}
