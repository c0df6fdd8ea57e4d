//! Points of the mechanism that are marked in the picture, each in the world as it is drawn.

use nalgebra::{Matrix3, Vector3};
use sim_core::cusp::{Cusp, CuspTip};
use sim_core::excursion::Placement;
use sim_core::frame::{JawPose, LowerPoint, Side, UpperPoint};
use sim_core::instrument::{Design, Instrument};

use super::guide::rest_centre;
use crate::state::Moving;

/// Where a member stands in the drawn world: rotation, then translation in millimetres.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pose {
    /// Rotation.
    pub rotation: Matrix3<f64>,
    /// Translation.
    pub translation: Vector3<f64>,
}

impl Pose {
    /// A point of the member, in the world.
    #[must_use]
    pub fn place(&self, point: &Vector3<f64>) -> Vector3<f64> {
        self.rotation * point + self.translation
    }
}

/// Where both members stand: the world is the frame of the one that stays.
#[derive(Clone, Copy, Debug)]
pub struct Stand {
    /// The upper member.
    pub upper: Pose,
    /// The lower member.
    pub lower: Pose,
}

impl Stand {
    /// The members in a jaw pose M: the lower member moved by M, or the upper one by its inverse.
    #[must_use]
    pub fn of(jaw: &JawPose, moving: Moving) -> Self {
        let still = Pose { rotation: Matrix3::identity(), translation: Vector3::zeros() };
        let moved = Pose { rotation: *jaw.rotation(), translation: *jaw.translation() };
        match moving {
            Moving::Lower => Self { upper: still, lower: moved },
            Moving::Upper => {
                let rotation = moved.rotation.transpose();
                Self { upper: Pose { rotation, translation: -(rotation * moved.translation) }, lower: still }
            }
        }
    }

    /// The member that carries a cusp, and the other one.
    #[must_use]
    pub fn of_cusp(&self, cusp: &Cusp) -> (&Pose, &Pose) {
        match cusp.tip() {
            CuspTip::Upper(_) => (&self.upper, &self.lower),
            CuspTip::Lower(_) => (&self.lower, &self.upper),
        }
    }

    /// Sphere centre of one side.
    #[must_use]
    pub fn sphere(&self, instrument: &Instrument, side: Side) -> Vector3<f64> {
        let carrier = match instrument.design {
            Design::Arcon => &self.lower,
            Design::NonArcon => &self.upper,
        };
        carrier.place(&rest_centre(instrument, side))
    }
}

/// A cusp's tip in the frame of its own member.
#[must_use]
pub fn tip(cusp: &Cusp) -> Vector3<f64> {
    match cusp.tip() {
        CuspTip::Upper(point) => *point.coords(),
        CuspTip::Lower(point) => *point.coords(),
    }
}

/// Where a cusp's tip has gone, in the frame of the opposing member.
#[must_use]
pub fn tip_seen_by_opponent(cusp: &Cusp, placement: &Placement) -> Vector3<f64> {
    match cusp.tip() {
        CuspTip::Upper(point) => *placement.jaw.to_lower(&point).coords(),
        CuspTip::Lower(point) => *placement.jaw.to_upper(&point).coords(),
    }
}

/// A lower point from plain coordinates.
#[must_use]
pub fn lower(point: &Vector3<f64>) -> LowerPoint {
    LowerPoint::from_coords(*point)
}

/// An upper point from plain coordinates.
#[must_use]
pub fn upper(point: &Vector3<f64>) -> UpperPoint {
    UpperPoint::from_coords(*point)
}
