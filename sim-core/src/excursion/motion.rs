//! A whole excursion, solved once; everything downstream reads it.

use super::{Excursion, Mechanism, NoPose, Placement, SampleCount};
use crate::frame::{LowerPoint, Side, UpperPoint};
use crate::units::Length;

/// An excursion solved at every sample.
#[derive(Clone, Debug, PartialEq)]
pub struct Motion {
    excursion: Excursion,
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
        Motion { excursion: *excursion, placements, stopped }
    }
}

impl Motion {
    /// The excursion it solves.
    #[must_use]
    pub const fn excursion(&self) -> &Excursion {
        &self.excursion
    }

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

    /// Path of a point of the lower member in the upper frame, one point a sample.
    #[must_use]
    pub fn path_of_lower(&self, point: &LowerPoint) -> Vec<UpperPoint> {
        self.placements.iter().map(|placed| placed.jaw.to_upper(point)).collect()
    }

    /// Path of a point of the upper member in the lower frame, one point a sample.
    #[must_use]
    pub fn path_of_upper(&self, point: &UpperPoint) -> Vec<LowerPoint> {
        self.placements.iter().map(|placed| placed.jaw.to_lower(point)).collect()
    }

    /// The Bennett movement, one value a sample; `None` where no side is the working one.
    #[must_use]
    pub fn bennett_movement(&self) -> Option<Vec<BennettMovement>> {
        let working = self.excursion.movement().working_side()?;
        Some(self.placements.iter().map(|placed| BennettMovement::of(placed, working)).collect())
    }
}
