//! One record read in the instrument: its jaw pose, and how sure the places of the condyles are.

use nalgebra::{Matrix2x3, Matrix3, Vector3};

use super::mounting::Mounting;
use super::registration::{Registration, ScanMotion};
use crate::excursion::CondyleReading;
use crate::frame::{JawPose, Side, Upper};
use crate::instrument::{Design, seat};
use crate::units::Length;

/// How the pose of a record varies with the noise of its landmarks: a turn about their middle and,
/// independent of it, a shift.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct PoseNoise {
    pub(super) middle: Vector3<f64>,
    pub(super) turn: Matrix3<f64>,
    pub(super) shift_variance: f64,
}

impl PoseNoise {
    /// Covariance of where a point near the jaw goes: shift + turn × (point − middle).
    pub(super) fn at(&self, point: &Vector3<f64>) -> Matrix3<f64> {
        let lever = (point - self.middle).cross_matrix();
        lever * self.turn * lever.transpose() + Matrix3::identity() * self.shift_variance
    }
}

/// A record in the instrument.
#[derive(Clone, Debug, PartialEq)]
pub struct RecordReading {
    /// The jaw pose.
    pub jaw: JawPose,
    /// The right condyle in its guide.
    pub right: CondyleReading,
    /// The left condyle in its guide.
    pub left: CondyleReading,
    pub(super) noise: Option<PoseNoise>,
    design: Design,
    distance: Length,
}

impl RecordReading {
    /// Reads a record found from landmarks of which every coordinate has the standard deviation `sd`.
    #[must_use]
    pub(crate) fn of_landmarks(
        mounting: &Mounting,
        registration: &Registration,
        sd: Length,
        design: Design,
        distance: Length,
    ) -> Self {
        let variance = sd.mm().powi(2);
        let middle = crate::frame::ScanPoint::from_coords(registration.centroid);
        let noise = PoseNoise {
            middle: *mounting.to_upper(&middle).coords(),
            turn: mounting.turn_covariance(&registration.unit_turn) * variance,
            shift_variance: registration.unit_shift * variance,
        };
        Self::new(mounting, &registration.motion, Some(noise), design, distance)
    }

    /// Reads a record given as a motion, of which nothing says how sure it is.
    #[must_use]
    pub(crate) fn of_motion(
        mounting: &Mounting,
        motion: &ScanMotion,
        design: Design,
        distance: Length,
    ) -> Self {
        Self::new(mounting, motion, None, design, distance)
    }

    fn new(
        mounting: &Mounting,
        motion: &ScanMotion,
        noise: Option<PoseNoise>,
        design: Design,
        distance: Length,
    ) -> Self {
        let jaw = mounting.jaw_pose(motion);
        let read = |side| CondyleReading::of_pose(&jaw, side, design, distance);
        Self { jaw, right: read(Side::Right), left: read(Side::Left), noise, design, distance }
    }

    /// The condyle of one side.
    #[must_use]
    pub const fn condyle(&self, side: Side) -> &CondyleReading {
        match side {
            Side::Right => &self.right,
            Side::Left => &self.left,
        }
    }

    pub(super) const fn design(&self) -> Design {
        self.design
    }

    /// Where, in the upper frame, the jaw is whose place a side's guide measures: the sphere of an
    /// arcon instrument, the lower point at the resting upper sphere of another.
    pub(super) fn measured_sphere(&self, side: Side) -> Vector3<f64> {
        match self.design {
            Design::Arcon => *self.jaw.to_upper(&seat(side, self.distance)).coords(),
            Design::NonArcon => *seat::<Upper>(side, self.distance).coords(),
        }
    }

    /// Covariance (mm²) of a condyle's (advance, medial, drop) from the noise of the landmarks;
    /// `None` for a record given as a motion.
    ///
    /// Arcon: the error of M c. Non-arcon: that of U c, which is the same turned back by Rᵀ.
    #[must_use]
    pub(crate) fn covariance(&self, side: Side) -> Option<Matrix3<f64>> {
        let noise = self.noise.as_ref()?;
        let outward = side.outward_y();
        let there = noise.at(&self.measured_sphere(side));
        let moved = match self.design {
            Design::Arcon => there,
            // The lower point that lies where the upper sphere rests.
            Design::NonArcon => self.jaw.rotation().transpose() * there * self.jaw.rotation(),
        };
        // (x, y, z) of the displacement as (advance, medial, drop).
        let axes = Matrix3::from_diagonal(&Vector3::new(1.0, -outward, -1.0));
        Some(axes * moved * axes)
    }

    /// Covariance of (advance, drop) alone.
    pub(super) fn sagittal_covariance(&self, side: Side) -> Option<nalgebra::Matrix2<f64>> {
        let pick = Matrix2x3::new(1.0, 0.0, 0.0, 0.0, 0.0, 1.0);
        self.covariance(side).map(|whole| pick * whole * pick.transpose())
    }
}
