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
        // By cross product and both parts of the angle: a small one read off a cosine alone loses half of its digits.
        let across = Vector3::y().cross(&axis);
        let angle = across.norm().atan2(axis.y);
        let tilted = across.try_normalize(0.0).unwrap_or_default() * angle;
        let tilt = Rotation3::from_scaled_axis(tilted);
        let turn = tilt.inverse() * rotation;
        // What is left turns about y alone.
        let turn = turn[(0, 2)].atan2(turn[(0, 0)]);
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
