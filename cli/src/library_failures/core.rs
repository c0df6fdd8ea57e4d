//! Of the maths.

use sim_core::practice::DealError;

use crate::failure::{Failure, Status};

impl Failure for DealError {
    fn messages(&self) -> Vec<String> {
        match self {
            Self::NotShown { .. } => vec![format!("--fault: {self}, with --form bench")],
            Self::NoPatient { .. } => vec![format!("--seed: {self}")],
            Self::OtherVersion { .. } => vec![format!("--key: {self}")],
        }
    }

    fn status(&self) -> Status {
        match self {
            Self::NotShown { .. } => Status::Wrong,
            Self::NoPatient { .. } | Self::OtherVersion { .. } => Status::Failed,
        }
    }
}
