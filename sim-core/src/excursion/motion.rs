//! All the poses of an excursion, kept.

use super::{Excursion, Mechanism, NoPose, Placement, SampleCount};
use crate::frame::Side;
use crate::units::Length;

/// The poses of an excursion, for those who need more than one of them at a time;
/// [`Mechanism::samples`] gives them one by one.
#[derive(Clone, Debug, PartialEq)]
pub struct Motion {
    placements: Vec<Placement>,
    stopped: Option<NoPose>,
}

/// Where the working condyle has gone from its seat: the Bennett movement.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BennettMovement {
    /// Away from the midline (laterotrusion).
    pub outward: Length,
    /// Backward (retrusion); forward is below zero.
    pub backward: Length,
    /// Upward (surtrusion); downward (detrusion) is below zero.
    pub upward: Length,
}

impl BennettMovement {
    /// What the condyle of the working side has done in a pose.
    #[must_use]
    pub fn of(placed: &Placement, working: Side) -> Self {
        let condyle = placed.condyle(working);
        Self { outward: -condyle.medial, backward: -condyle.advance, upward: -condyle.drop }
    }
}

impl Mechanism {
    /// Solves a whole excursion. Where the settings admit no pose in mid-path, the motion holds
    /// the good part and what stopped it.
    #[must_use]
    pub fn motion(&self, excursion: &Excursion, samples: SampleCount) -> Motion {
        let mut placements = Vec::new();
        let mut stopped = None;
        for sample in self.samples(excursion, samples) {
            match sample {
                Ok(placement) => placements.push(placement),
                Err(no_pose) => stopped = Some(no_pose),
            }
        }
        Motion { placements, stopped }
    }
}

impl Motion {
    /// The poses in order, from rest on.
    #[must_use]
    pub fn placements(&self) -> &[Placement] {
        &self.placements
    }

    /// What stopped it short of its end, if anything did.
    #[must_use]
    pub const fn stopped(&self) -> Option<&NoPose> {
        self.stopped.as_ref()
    }
}
