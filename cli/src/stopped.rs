//! Excursions that stopped short.

use sim_core::excursion::NoPose;

use crate::failure::{Failure, Status};

/// An excursion that stopped short, and in which scene.
#[derive(Debug, Clone, thiserror::Error)]
#[error("{scene}: {no_pose}")]
pub(crate) struct Stop {
    pub(crate) scene: String,
    pub(crate) no_pose: NoPose,
}

/// All that stopped short; what was solved before has been written.
#[derive(Debug, thiserror::Error)]
#[error("{}", .0.iter().map(Stop::to_string).collect::<Vec<_>>().join("\n"))]
pub(crate) struct Stopped(pub(crate) Vec<Stop>);

impl Stopped {
    /// One, in the scene of that name.
    pub(crate) fn one(scene: &str, no_pose: NoPose) -> Self {
        Self(vec![Stop { scene: scene.to_owned(), no_pose }])
    }

    /// Fails if anything in the scene of that name stopped.
    pub(crate) fn any(scene: &str, stops: impl IntoIterator<Item = NoPose>) -> Result<(), Self> {
        let stop = |no_pose| Stop { scene: scene.to_owned(), no_pose };
        let stops: Vec<Stop> = stops.into_iter().map(stop).collect();
        if stops.is_empty() { Ok(()) } else { Err(Self(stops)) }
    }
}

impl Failure for Stopped {
    fn status(&self) -> Status {
        Status::Failed
    }

    fn messages(&self) -> Vec<String> {
        self.0.iter().map(Stop::to_string).collect()
    }
}
