//! The occlusal plane, to which separations are measured.

use nalgebra::Vector3;

use crate::units::Angle;

/// The occlusal plane: the horizontal reference plane with its anterior edge tipped down.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OcclusalPlane {
    /// Inclination ι to the horizontal reference plane, anterior edge down.
    pub inclination: Angle,
}

impl OcclusalPlane {
    /// Unit normal (sin ι, 0, cos ι), pointing up.
    #[must_use]
    pub fn normal(&self) -> Vector3<f64> {
        let (sin, cos) = self.inclination.sin_cos();
        Vector3::new(sin, 0.0, cos)
    }

    /// Unit anterior direction (cos ι, 0, −sin ι) within the plane.
    #[must_use]
    pub fn anterior(&self) -> Vector3<f64> {
        let (sin, cos) = self.inclination.sin_cos();
        Vector3::new(cos, 0.0, -sin)
    }
}
