//! Where the arches stand in the instrument.

use nalgebra::Vector3;

use super::InventedCasts;
use crate::frame::OcclusalPlane;

/// From the occlusal plane's own coordinates (anterior of the incisal midpoint, left, height) to the
/// instrument's.
pub(super) struct PlaneFrame {
    origin: Vector3<f64>,
    anterior: Vector3<f64>,
    normal: Vector3<f64>,
}

impl PlaneFrame {
    pub(super) fn new(casts: &InventedCasts, plane: OcclusalPlane) -> Self {
        let origin = Vector3::new(casts.incisal_x.mm(), 0.0, casts.incisal_z.mm());
        Self { origin, anterior: plane.anterior(), normal: plane.normal() }
    }

    pub(super) fn place(&self, anterior: f64, left: f64, height: f64) -> Vector3<f64> {
        self.origin + self.anterior * anterior + Vector3::y() * left + self.normal * height
    }
}
