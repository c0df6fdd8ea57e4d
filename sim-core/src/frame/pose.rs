//! The jaw pose: where the lower member stands, seen from the upper one.

use nalgebra::{Matrix3, Vector3};

use super::{LowerPoint, UpperPoint};

/// The jaw pose `M`, which maps lower-frame points to upper-frame points.
///
/// It is the lower jaw as the patient moves it, the upper jaw at rest. The upper member's pose on
/// the bench is the inverse, `U = M⁻¹`: [`Self::to_lower`].
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct JawPose {
    rotation: Matrix3<f64>,
    translation: Vector3<f64>,
}

impl JawPose {
    /// The zeroed centric position, where the two frames coincide.
    #[must_use]
    pub fn identity() -> Self {
        Self::new(Matrix3::identity(), Vector3::zeros())
    }

    /// The caller answers for `rotation` being one; inside this crate only.
    pub(crate) const fn new(rotation: Matrix3<f64>, translation: Vector3<f64>) -> Self {
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

    /// Rotation matrix of `M`, orthonormal to 1e-12, determinant +1.
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
        Self::new(rotation, self.translation - rotation * rest.translation)
    }

    /// The pose with its members exchanged, `M⁻¹`.
    #[inline]
    pub(crate) fn inverse(&self) -> Self {
        let rotation = self.rotation.transpose();
        Self::new(rotation, -(rotation * self.translation))
    }
}
