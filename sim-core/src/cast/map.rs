//! Rigid maps, and boxes carried by them.

use nalgebra::{Matrix3, Vector3};

use super::tree::Node;
use crate::frame::{JawPose, OcclusalPlane};

/// A rigid map: turn, then shift.
#[derive(Clone, Copy, Debug)]
pub(super) struct Map {
    turn: Matrix3<f64>,
    shift: Vector3<f64>,
}

/// A node of a tree where a map has carried it.
#[derive(Clone, Copy, Debug)]
pub(super) struct Placed {
    pub(super) centre: Vector3<f64>,
    /// Half the box's edges, along axes that the map has turned.
    pub(super) half: Vector3<f64>,
    /// Mean outward normal.
    pub(super) normal: Vector3<f64>,
    /// How far the node reaches along that normal.
    pub(super) high: f64,
}

impl Map {
    pub(super) const fn new(turn: Matrix3<f64>, shift: Vector3<f64>) -> Self {
        Self { turn, shift }
    }

    pub(super) fn identity() -> Self {
        Self::new(Matrix3::identity(), Vector3::zeros())
    }

    /// Lower frame to upper frame.
    pub(super) const fn jaw(pose: &JawPose) -> Self {
        Self::new(*pose.rotation(), *pose.translation())
    }

    /// The same, seen in coordinates whose axes are the rows of `axes`.
    pub(super) fn seen(&self, axes: &Matrix3<f64>) -> Self {
        Self::new(axes * self.turn, axes * self.shift)
    }

    #[inline]
    pub(super) fn point(&self, point: &Vector3<f64>) -> Vector3<f64> {
        self.turn * point + self.shift
    }

    #[inline]
    pub(super) fn direction(&self, direction: &Vector3<f64>) -> Vector3<f64> {
        self.turn * direction
    }

    /// Where the point comes from.
    #[inline]
    pub(super) fn back(&self, point: &Vector3<f64>) -> Vector3<f64> {
        self.turn.tr_mul(&(point - self.shift))
    }

    #[inline]
    pub(super) fn corners(&self, corners: &[Vector3<f64>; 3]) -> [Vector3<f64>; 3] {
        let [a, b, c] = corners;
        [self.point(a), self.point(b), self.point(c)]
    }

    #[inline]
    pub(super) fn node(&self, node: &Node) -> Placed {
        let normal = self.direction(&node.normal);
        let high = node.high + normal.dot(&self.shift);
        Placed { centre: self.point(&node.centre), half: node.half, normal, high }
    }

    /// Half the extent along a direction of a box that this has carried.
    #[inline]
    pub(super) fn reach(&self, node: &Placed, direction: &Vector3<f64>) -> f64 {
        self.turn.tr_mul(direction).abs().dot(&node.half)
    }

    /// Half the sides of the upright box about a box that this has carried.
    #[inline]
    pub(super) fn sizes(&self, node: &Placed) -> Vector3<f64> {
        self.turn.abs() * node.half
    }
}

/// Rows: anterior, left, up along the occlusal plane's normal.
pub(super) fn axes_of(plane: OcclusalPlane) -> Matrix3<f64> {
    Matrix3::from_rows(&[plane.anterior(), Vector3::y(), plane.normal()].map(|row| row.transpose()))
}

#[cfg(test)]
mod tests {
    use nalgebra::{Rotation3, Vector3};

    use super::Map;

    #[test]
    fn there_and_back_a_point_is_where_it_was() {
        let turn = *Rotation3::from_euler_angles(0.3, -0.4, 0.5).matrix();
        let map = Map::new(turn, Vector3::new(1.0, 2.0, 3.0));
        let point = Vector3::new(-4.0, 5.0, 6.0);
        let there = map.point(&point);
        assert!((map.back(&there) - point).norm() < 1e-14);
        assert!((there - point).norm() > 1.0);
    }
}
