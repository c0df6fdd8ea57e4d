//! A plane through both casts: the lines in which it cuts them, and the vertical gap between those.
//!
//! Everything in a section is drawn in the plane itself: across (forward, to the left or outward, as
//! the cut says) and up along the occlusal plane's normal, both in millimetres.

mod gap;
mod lines;
#[cfg(test)]
mod tests;

pub use gap::SectionGap;

use nalgebra::Vector3;

use super::{Surface, ToothRow};
use crate::frame::{JawPose, OcclusalPlane, UpperPoint};
use crate::units::Length;

/// A plane square to the occlusal plane, fixed to the upper member.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Cut {
    origin: Vector3<f64>,
    across: Vector3<f64>,
    up: Vector3<f64>,
}

/// A line of a section: across and up, in millimetres. One that closes on itself repeats its first
/// place at its end.
pub type SectionLine = Vec<[f64; 2]>;

/// What a plane cuts out of both casts.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Section {
    /// Lines on the upper cast.
    pub upper: Vec<SectionLine>,
    /// Lines on the lower cast, as it stands in the jaw pose.
    pub lower: Vec<SectionLine>,
}

impl Cut {
    /// A sagittal plane, `left` of the midline; across is forward.
    #[must_use]
    pub fn sagittal(plane: OcclusalPlane, left: Length) -> Self {
        Self { origin: Vector3::y() * left.mm(), across: plane.anterior(), up: plane.normal() }
    }

    /// A plane square to the midline, `forward` of the middle of the transverse axis; across is to the
    /// left.
    #[must_use]
    pub fn frontal(plane: OcclusalPlane, forward: Length) -> Self {
        Self { origin: plane.anterior() * forward.mm(), across: Vector3::y(), up: plane.normal() }
    }

    /// A plane square to the arch, at a length along it from the midline, to the left; across is
    /// outward.
    #[must_use]
    pub fn square_to(row: &ToothRow, along: Length) -> Self {
        let (place, outward) = row.at(along);
        Self { origin: *place.coords(), across: outward, up: row.plane().normal() }
    }

    /// A place in the plane, in the upper frame.
    #[must_use]
    pub fn place(&self, [across, up]: [f64; 2]) -> UpperPoint {
        UpperPoint::from_coords(self.origin + self.across * across + self.up * up)
    }

    /// Where a place of the upper frame stands in the plane: across, up and toward whoever sees across
    /// to the right and up upward, in millimetres.
    #[must_use]
    pub fn coordinates(&self, place: &UpperPoint) -> [f64; 3] {
        let from = place.coords() - self.origin;
        [from.dot(&self.across), from.dot(&self.up), from.dot(&self.across.cross(&self.up))]
    }

    /// The same plane in the lower frame.
    fn in_lower(&self, jaw: &JawPose) -> Self {
        let turn = jaw.rotation();
        Self {
            origin: turn.tr_mul(&(self.origin - jaw.translation())),
            across: turn.tr_mul(&self.across),
            up: turn.tr_mul(&self.up),
        }
    }
}

impl Section {
    /// The section of two casts, each in its member's frame, in a jaw pose.
    #[must_use]
    pub fn of(upper: &Surface, lower: &Surface, jaw: &JawPose, cut: &Cut) -> Self {
        Self { upper: lines::cut(upper, cut), lower: lines::cut(lower, &cut.in_lower(jaw)) }
    }

    /// The least vertical gap between the two casts within the plane: from the topmost of the lower
    /// cast up to the lowest of the upper one, below zero where the lower stands above the upper.
    /// `None` where neither is over the other.
    #[must_use]
    pub fn least_gap(&self) -> Option<SectionGap> {
        gap::least(&self.upper, &self.lower)
    }
}
