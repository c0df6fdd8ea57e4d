//! A motion parted into a turn about the axis and what no such turn explains.

use nalgebra::{Rotation3, Vector3};

use crate::frame::Side;

/// A motion as a hinge turn followed by what is left: shift, roll, yaw. Exact: M = shift · (axis turned the shortest
/// way) · (turn about the axis).
pub(super) struct Parted {
    pub(super) turn: f64,
    pub(super) shift: Vector3<f64>,
    pub(super) roll: f64,
    pub(super) yaw: f64,
}

impl Parted {
    pub(super) fn of(rotation: &Rotation3<f64>, shift: Vector3<f64>) -> Self {
        let axis = rotation * Vector3::y();
        let tilt = Rotation3::rotation_between(&Vector3::y(), &axis).unwrap_or_else(Rotation3::identity);
        let turn = tilt.inverse() * rotation;
        // What is left turns about y alone.
        let turn = turn[(0, 2)].atan2(turn[(0, 0)]);
        let tilted = tilt.scaled_axis();
        Self { turn, shift, roll: tilted.x, yaw: tilted.z }
    }

    /// Where the right and the left condyle go, so far from the middle of the axis.
    pub(super) fn condyles(&self, half_mm: f64) -> [Vector3<f64>; 2] {
        let tilt = Rotation3::from_scaled_axis(Vector3::new(self.roll, 0.0, self.yaw));
        Side::BOTH.map(|side| {
            let seat = Vector3::y() * (half_mm * side.outward_y());
            tilt * seat + self.shift - seat
        })
    }
}
