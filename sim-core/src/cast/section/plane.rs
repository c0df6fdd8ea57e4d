//! The plane that cuts, and the lines that it cuts.

use nalgebra::Vector3;

use crate::cast::ToothRow;
use crate::frame::{JawPose, OcclusalPlane, UpperPoint};
use crate::units::Length;

/// A plane square to the occlusal plane, fixed to the upper member.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Cut {
    pub(super) origin: Vector3<f64>,
    pub(super) across: Vector3<f64>,
    pub(super) up: Vector3<f64>,
}

/// A line of a section: across and up, in millimetres. One that closes on itself repeats its first
/// place at its end.
pub type SectionLine = Vec<[f64; 2]>;

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

    /// The same plane in the lower frame.
    pub(super) fn in_lower(&self, jaw: &JawPose) -> Self {
        let turn = jaw.rotation();
        Self {
            origin: turn.tr_mul(&(self.origin - jaw.translation())),
            across: turn.tr_mul(&self.across),
            up: turn.tr_mul(&self.up),
        }
    }
}
