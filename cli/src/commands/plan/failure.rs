//! Why a plan is not worked out, or not reached.

use sim_core::plan::PlanError;

use crate::failure::{Failure, Status};

#[derive(Debug, thiserror::Error)]
pub(super) enum PlanFailure {
    #[error("{name}: {error}")]
    Unplanned { name: String, error: PlanError },
    #[error(
        "--free says what may be changed, but there is no goal to reach; add one with --balance or --clear"
    )]
    FreeForNothing,
    /// The nearest has been written.
    #[error("{name}: the goal of the plan cannot be reached within its bounds; the nearest is given")]
    NotReached { name: String },
}

impl Failure for PlanFailure {
    fn status(&self) -> Status {
        match self {
            Self::Unplanned { error: PlanError::NoPose(_), .. } | Self::NotReached { .. } => Status::Failed,
            Self::Unplanned { .. } | Self::FreeForNothing => Status::Wrong,
        }
    }
}
