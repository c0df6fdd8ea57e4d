//! Where the two members stand in the drawn world.

use nalgebra::{Matrix3, Vector3};
use sim_core::cusp::{Cusp, CuspTip};
use sim_core::frame::{JawPose, Side};
use sim_core::instrument::{Design, Instrument};

use super::landmarks::rest_centre;

/// Which member moves on the screen.
#[derive(Clone, Copy, Debug, PartialEq, Eq, serde::Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Moving {
    /// The lower one, as the patient moves the jaw.
    Lower,
    /// The upper one, as on the bench.
    Upper,
}

/// Where a member stands in the drawn world: rotation, then translation in millimetres.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MemberPose {
    /// Rotation.
    pub rotation: Matrix3<f64>,
    /// Translation.
    pub translation: Vector3<f64>,
}

impl MemberPose {
    /// A point of the member, in the world.
    #[must_use]
    pub fn place(&self, point: &Vector3<f64>) -> Vector3<f64> {
        self.rotation * point + self.translation
    }
}

/// Where both members stand: the world is the frame of the one that stays.
#[derive(Clone, Copy, Debug)]
pub struct MemberPoses {
    /// The upper member.
    pub upper: MemberPose,
    /// The lower member.
    pub lower: MemberPose,
}

impl MemberPoses {
    /// The members in a jaw pose M: the lower member moved by M, or the upper one by its inverse.
    #[must_use]
    pub fn of(jaw: &JawPose, moving: Moving) -> Self {
        let still = MemberPose { rotation: Matrix3::identity(), translation: Vector3::zeros() };
        let moved = MemberPose { rotation: *jaw.rotation(), translation: *jaw.translation() };
        match moving {
            Moving::Lower => Self { upper: still, lower: moved },
            Moving::Upper => {
                let rotation = moved.rotation.transpose();
                let translation = -(rotation * moved.translation);
                Self { upper: MemberPose { rotation, translation }, lower: still }
            }
        }
    }

    /// The member that carries a cusp, and the other one.
    #[must_use]
    pub fn of_cusp(&self, cusp: &Cusp) -> (&MemberPose, &MemberPose) {
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
