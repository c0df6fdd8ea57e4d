//! The occlusal plane, to which separations are measured.

use nalgebra::Vector3;

use crate::facts::Facts;
use crate::units::{Angle, Length, Unit};

/// The occlusal plane: the horizontal reference plane with its anterior edge tipped down.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OcclusalPlane {
    /// Inclination ι to the horizontal reference plane, anterior edge down.
    pub inclination: Angle,
}

impl OcclusalPlane {
    /// Name, unit, range and meaning of the inclination.
    pub(crate) const INCLINATION: Facts = Facts {
        key: "occlusal_plane_inclination_deg",
        label: "inclination of the occlusal plane",
        symbol: None,
        unit: Unit::Degree,
        min: -45.0,
        max: 45.0,
        step: 1.0,
        zeroed: None,
        doc: "Inclination of the occlusal plane to the horizontal reference plane, anterior edge down; separations are measured along its normal.",
    };

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

    /// How long a displacement (mm) is along the plane: the length of its projection, which is what a
    /// tracing plate parallel to the plane shows of it.
    #[must_use]
    pub fn along(&self, displacement: &Vector3<f64>) -> Length {
        let normal = self.normal();
        Length::from_mm((displacement - normal * normal.dot(displacement)).norm())
    }
}
