//! The vertical gap at every vertex of an arch.

use nalgebra::Vector3;

use super::Surface;
use super::casts::Casts;
use super::map::Map;
use super::tree::{Node, Tree};
use crate::cusp::Arch;
use crate::frame::{JawPose, OcclusalPlane};
use crate::units::Length;

/// How far outside an edge, in parts of the triangle, a line counts as through it: so that rounding
/// leaves no gap between neighbours.
const SEAM: f64 = 1e-10;
/// Boxes are widened by this much, in millimetres, so that a line along a face of one is not lost.
const FACE_MM: f64 = 1e-9;
/// No component of a direction is taken for less: its inverse, times any length, must be a number.
const LEAST_COMPONENT: f64 = 1e-150;

impl Casts {
    /// The vertical gap from each vertex of an arch to the opposing surface in a jaw pose, in the order
    /// of [`Surface::vertices`].
    ///
    /// The vertical is the normal of the occlusal plane in the upper frame. As for
    /// [`super::CastsReading::vertical`], only sides that face each other count, and the gap is below zero
    /// where the lower surface stands above the upper; of several opposing layers the one that gives
    /// the least gap. `None` where the vertex faces away or nothing is opposite within `cap` either
    /// way.
    #[must_use]
    pub fn clearance_map(
        &self,
        pose: &JawPose,
        plane: OcclusalPlane,
        arch: Arch,
        cap: Length,
    ) -> Vec<Option<Length>> {
        let jaw = Map::jaw(pose);
        let (up, down) = (plane.normal(), -plane.normal());
        // The way to the opposing arch, in this arch's frame and in the other's.
        let (way, there) = match arch {
            Arch::Upper => (down, jaw.direction_back(&down)),
            Arch::Lower => (jaw.direction_back(&up), up),
        };
        let opposite = self.cast(arch.opposite());
        let surface = self.surface(arch);
        let beam = Beam::along(there);
        let facing = seen_along(surface, &way);
        let vertices = surface.vertices().iter().zip(facing);
        let mut open = Vec::new();
        let mut gap = |vertex: &Vector3<f64>| {
            let from = match arch {
                Arch::Upper => jaw.back(vertex),
                Arch::Lower => jaw.point(vertex),
            };
            beam.least(&opposite.surface, &opposite.tree, &from, cap.in_mm(), &mut open)
        };
        vertices.map(|(vertex, faces)| if faces { gap(vertex).map(Length::mm) } else { None }).collect()
    }
}

/// Which vertices have a triangle whose outward side is seen along a way.
fn seen_along(surface: &Surface, way: &Vector3<f64>) -> Vec<bool> {
    let mut facing = vec![false; surface.vertices().len()];
    for (at, triangle) in surface.triangles().iter().enumerate() {
        let [a, b, c] = surface.corners(at);
        if (b - a).cross(&(c - a)).dot(way) > 0.0 {
            for &vertex in triangle {
                facing[vertex as usize] = true;
            }
        }
    }
    facing
}

/// Parallel lines in one direction.
struct Beam {
    way: Vector3<f64>,
    inverse: Vector3<f64>,
}

impl Beam {
    fn along(way: Vector3<f64>) -> Self {
        let inverse = way.map(|part| 1.0 / part.abs().max(LEAST_COMPONENT).copysign(part));
        Self { way, inverse }
    }

    /// The least way s, from −cap to cap, to where the line through a point meets a surface against its
    /// outward side.
    fn least(
        &self,
        surface: &Surface,
        tree: &Tree,
        from: &Vector3<f64>,
        cap: f64,
        open: &mut Vec<(f64, u32)>,
    ) -> Option<f64> {
        let mut least = None;
        let mut best = cap;
        open.clear();
        open.extend(self.enters(tree.node(Tree::ROOT), from, cap, best).map(|start| (start, Tree::ROOT)));
        while let Some((start, at)) = open.pop() {
            if start > best {
                continue;
            }
            let node = tree.node(at);
            for &triangle in tree.triangles(node) {
                let corners = surface.corners(triangle as usize);
                if let Some(s) = self.meets(corners, from).filter(|s| *s <= best && *s >= -cap) {
                    (least, best) = (Some(s), s);
                }
            }
            if !node.is_leaf() {
                let ahead = |child| Some((self.enters(tree.node(child), from, cap, best)?, child));
                let [one, other] = node.children().map(ahead);
                // The one that begins first is looked into first.
                let is_first = one.is_none_or(|one| other.is_none_or(|other| one.0 < other.0));
                let (next, last) = if is_first { (one, other) } else { (other, one) };
                open.extend([last, next].into_iter().flatten());
            }
        }
        least
    }

    /// Where the line enters a node, if between −cap and the best so far.
    #[inline]
    fn enters(&self, node: &Node, from: &Vector3<f64>, cap: f64, best: f64) -> Option<f64> {
        let (mut start, mut end) = (-cap, best);
        for axis in 0..3 {
            let middle = (node.centre[axis] - from[axis]) * self.inverse[axis];
            let half = (node.half[axis] + FACE_MM) * self.inverse[axis].abs();
            start = start.max(middle - half);
            end = end.min(middle + half);
        }
        (start <= end).then_some(start)
    }

    /// Where the line meets a triangle against its outward side.
    #[inline]
    fn meets(&self, corners: [Vector3<f64>; 3], from: &Vector3<f64>) -> Option<f64> {
        let [a, b, c] = corners.map(|corner| corner - from);
        let area = (b - a).cross(&(c - a));
        let against = -area.dot(&self.way);
        if against <= 0.0 {
            return None;
        }
        // Twice the areas, seen along the line, of the triangles that the line makes with the edges.
        let parts = [(&b, &a), (&c, &b), (&a, &c)].map(|(end, start)| end.cross(start).dot(&self.way));
        let is_through = parts.iter().all(|part| *part >= -SEAM * against);
        is_through.then(|| -area.dot(&a) / against)
    }
}
