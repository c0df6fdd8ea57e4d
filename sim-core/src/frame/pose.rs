//! The jaw pose: where the lower member stands, seen from the upper one.

use nalgebra::{Matrix3, Vector3};

use super::{LowerPoint, UpperPoint};

/// How far the columns of a rotation may be off unit length and right angles: what arithmetic leaves of
/// them, and too little to show at a tooth (1e-9 of 150 mm).
pub(crate) const ROTATION_TOLERANCE: f64 = 1e-9;

/// Why a rotation and a translation make no pose.
#[derive(Clone, Copy, Debug, PartialEq, thiserror::Error)]
pub enum PoseError {
    /// A number that is none, or without end.
    #[error("the {part} of the pose has the entry {entry}; allowed are finite numbers")]
    NotFinite {
        /// `rotation` or `translation`.
        part: &'static str,
        /// The entry.
        entry: f64,
    },
    /// Stretched or sheared.
    #[error(
        "the columns of the pose's rotation are off unit length and right angles by {departure:e}; allowed is {ROTATION_TOLERANCE:e}"
    )]
    NotOrthonormal {
        /// The largest entry of RᵀR − 1, without its sign.
        departure: f64,
    },
    /// A mirror image.
    #[error("the rotation of the pose mirrors: its determinant is {determinant:.3}, and a rotation's is +1")]
    Mirrored {
        /// The determinant.
        determinant: f64,
    },
}

/// The jaw pose `M`, which maps lower-frame points to upper-frame points.
///
/// It is the lower jaw as the patient moves it, the upper jaw at rest. The upper member's pose on
/// the bench is the inverse, `U = M⁻¹`: [`Self::to_lower`].
///
/// A pose comes out of a [`Placement`](crate::excursion::Placement), or is made of a measured rotation
/// and translation; [`Gauges`](crate::cusp::Gauges) then read it at the cusps, whatever it came from:
///
/// ```
/// use nalgebra::{Matrix3, Vector3};
/// use sim_core::cusp::Gauges;
/// use sim_core::frame::{JawPose, PoseError};
/// use sim_core::scene::Scene;
///
/// // A jaw measured 2 mm forward and 1.5 mm down, without a turn.
/// let measured = JawPose::new(Matrix3::identity(), Vector3::new(2.0, 0.0, -1.5))?;
/// let scene = Scene::thirty_degree();
/// let plane = scene.occlusal_plane;
/// let off = -measured.translation().dot(&plane.normal());
/// for reading in Gauges::new(plane, &scene.cusps).read(&measured) {
///     assert!((reading.separation.mm() - off).abs() < 1e-12);
/// }
///
/// let mirrored = JawPose::new(-Matrix3::identity(), Vector3::zeros());
/// assert_eq!(mirrored, Err(PoseError::Mirrored { determinant: -1.0 }));
/// # Ok::<(), PoseError>(())
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct JawPose {
    rotation: Matrix3<f64>,
    translation: Vector3<f64>,
}

impl JawPose {
    /// The zeroed centric position, where the two frames coincide.
    #[must_use]
    pub fn identity() -> Self {
        Self::rigid(Matrix3::identity(), Vector3::zeros())
    }

    /// A pose of a rotation and a translation in millimetres, as they take lower points to the upper
    /// frame.
    ///
    /// # Errors
    /// [`PoseError`] where a number is not finite, where the rotation's columns are off unit length and
    /// right angles by more than arithmetic leaves (1e-9), or where it mirrors. What was rounded for print
    /// is off by more, and is to be made a rotation again first.
    pub fn new(rotation: Matrix3<f64>, translation: Vector3<f64>) -> Result<Self, PoseError> {
        for (part, entries) in [("rotation", rotation.as_slice()), ("translation", translation.as_slice())] {
            if let Some(&entry) = entries.iter().find(|entry| !entry.is_finite()) {
                return Err(PoseError::NotFinite { part, entry });
            }
        }
        let departure = (rotation.tr_mul(&rotation) - Matrix3::identity()).amax();
        if departure > ROTATION_TOLERANCE {
            return Err(PoseError::NotOrthonormal { departure });
        }
        let determinant = rotation.determinant();
        if determinant < 0.0 {
            return Err(PoseError::Mirrored { determinant });
        }
        Ok(Self::rigid(rotation, translation))
    }

    /// As [`Self::new`], where the caller answers for `rotation` being one.
    pub(crate) const fn rigid(rotation: Matrix3<f64>, translation: Vector3<f64>) -> Self {
        Self { rotation, translation }
    }

    /// Where a point of the lower member stands in the upper frame.
    #[must_use]
    #[inline]
    pub fn to_upper(&self, point: &LowerPoint) -> UpperPoint {
        UpperPoint::from_coords(self.rotation * point.coords() + self.translation)
    }

    /// Where a point of the upper member stands in the lower frame.
    #[must_use]
    #[inline]
    pub fn to_lower(&self, point: &UpperPoint) -> LowerPoint {
        LowerPoint::from_coords(self.rotation.tr_mul(&(point.coords() - self.translation)))
    }

    /// Rotation matrix of `M`, determinant +1: orthonormal to 1e-12 where it was solved, to
    /// 1e-9 where it was given.
    #[must_use]
    pub const fn rotation(&self) -> &Matrix3<f64> {
        &self.rotation
    }

    /// Translation of `M` in millimetres.
    #[must_use]
    pub const fn translation(&self) -> &Vector3<f64> {
        &self.translation
    }

    /// The pose that takes places from where `rest` has put them to where this one does.
    pub(crate) fn since(&self, rest: &Self) -> Self {
        let rotation = self.rotation * rest.rotation.transpose();
        Self::rigid(rotation, self.translation - rotation * rest.translation)
    }

    /// The pose with its members exchanged, `M⁻¹`.
    #[inline]
    pub(crate) fn inverse(&self) -> Self {
        let rotation = self.rotation.transpose();
        Self::rigid(rotation, -(rotation * self.translation))
    }
}

#[cfg(test)]
mod tests {
    use nalgebra::Rotation3;
    use proptest::prelude::*;

    use super::{JawPose, LowerPoint, Matrix3, PoseError, ROTATION_TOLERANCE, Vector3};

    /// Above what rounding leaves of some hundreds of millimetres.
    const ROUNDED_MM: f64 = 1e-11;

    fn vector(reach: f64) -> impl Strategy<Value = Vector3<f64>> {
        [-reach..reach, -reach..reach, -reach..reach].prop_map(Vector3::from)
    }

    /// Any rotation at all, by its axis times its angle.
    fn rotation() -> impl Strategy<Value = Matrix3<f64>> {
        vector(3.0).prop_map(|turn| *Rotation3::new(turn).matrix())
    }

    proptest! {
        #[test]
        fn a_pose_leads_there_and_back(turn in rotation(), shift in vector(60.0), place in vector(150.0)) {
            let pose = JawPose::new(turn, shift).unwrap();
            prop_assert_eq!((pose.rotation(), pose.translation()), (&turn, &shift));
            let point = LowerPoint::from_coords(place);
            let there = pose.to_upper(&point);
            prop_assert!((there.coords() - (turn * place + shift)).norm() <= ROUNDED_MM);
            prop_assert!(pose.to_lower(&there).distance_mm(&point) <= ROUNDED_MM);
        }

        #[test]
        fn a_mirror_is_refused(turn in rotation(), shift in vector(60.0), axis in 0..3_usize) {
            let mut mirror = Matrix3::identity();
            mirror[(axis, axis)] = -1.0;
            let refused = JawPose::new(turn * mirror, shift).unwrap_err();
            let PoseError::Mirrored { determinant } = refused else { panic!("{refused}") };
            prop_assert!((determinant + 1.0).abs() <= ROTATION_TOLERANCE);
        }

        #[test]
        fn what_is_not_finite_is_refused_by_its_part(
            turn in rotation(),
            shift in vector(60.0),
            wrong in prop_oneof![Just(f64::NAN), Just(f64::INFINITY), Just(f64::NEG_INFINITY)],
            entry in 0..12_usize,
        ) {
            let (mut turn, mut shift) = (turn, shift);
            let part = if entry < 9 {
                turn[entry] = wrong;
                "rotation"
            } else {
                shift[entry - 9] = wrong;
                "translation"
            };
            let refused = JawPose::new(turn, shift).unwrap_err();
            let PoseError::NotFinite { part: named, .. } = refused else { panic!("{refused}") };
            prop_assert_eq!(named, part);
        }

        #[test]
        fn a_stretch_is_refused_by_how_far_it_goes(turn in rotation(), by in 1e-8..0.5_f64) {
            let refused = JawPose::new(turn * (1.0 + by), Vector3::zeros()).unwrap_err();
            let PoseError::NotOrthonormal { departure } = refused else { panic!("{refused}") };
            // (1 + by)² − 1
            prop_assert!((departure - by * (2.0 + by)).abs() <= 1e-12);
            prop_assert!(departure > ROTATION_TOLERANCE);
            prop_assert!(refused.to_string().contains("allowed is 1e-9"));
        }
    }
}
