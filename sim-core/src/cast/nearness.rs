//! The least true distance of two surfaces, and of a point from a surface.

use nalgebra::Vector3;
use parry3d_f64::math::Vector;
use parry3d_f64::query::PointQuery;
use parry3d_f64::shape::Triangle;

use super::Surface;
use super::joins::Joins;
use super::map::{Map, Placed};
use super::search::{EQUAL, Facet, Meeting, STACK, Search};
use super::tree::{Node, Tree};
use crate::cusp::Arch;

/// The search for the least distance, in the upper frame; the score is its negative.
pub(super) struct Nearness {
    lower: Map,
    /// The least distance so far, and a little.
    far: f64,
}

impl Nearness {
    /// Given the map from the lower frame to the upper.
    pub(super) const fn new(lower: Map) -> Self {
        Self { lower, far: f64::INFINITY }
    }
}

impl Search for Nearness {
    type Place = Placed;

    #[inline]
    fn node(&self, arch: Arch, node: &Node) -> Placed {
        match arch {
            Arch::Upper => Map::identity().node(node),
            Arch::Lower => self.lower.node(node),
        }
    }

    #[inline]
    fn facet(&self, arch: Arch, corners: &[Vector3<f64>; 3]) -> Facet {
        Facet::new(match arch {
            Arch::Upper => *corners,
            Arch::Lower => self.lower.corners(corners),
        })
    }

    /// The distance of the boxes, or of the planes along either mean normal that each node lies behind.
    #[inline]
    fn bound(&self, upper: &Placed, lower: &Placed) -> f64 {
        let apart = lower.centre - upper.centre;
        let sizes = [0, 1, 2].map(|row| upper.edges.row(row).abs().sum() + lower.edges.row(row).abs().sum());
        let boxes = (apart.abs() - Vector3::from(sizes)).sup(&Vector3::zeros()).norm();
        let tilt = upper.normal + lower.normal;
        let highs = upper.high + lower.high;
        let over_upper = tilt.dot(&lower.centre) - lower.reach(&tilt) - highs;
        let over_lower = tilt.dot(&upper.centre) - upper.reach(&tilt) - highs;
        -boxes.max(over_upper).max(over_lower)
    }

    /// The plane of either has the other farther in front of it.
    #[inline]
    fn is_less(&self, upper: &Facet, lower: &Facet) -> bool {
        let is_far = |one: &Facet, other: &Facet| {
            let [first, ..] = &one.corners;
            other.corners.iter().all(|corner| one.normal.dot(&(corner - first)) > self.far)
        };
        is_far(upper, lower) || is_far(lower, upper)
    }

    fn score(&self, upper: &Facet, lower: &Facet) -> Option<Meeting> {
        let (square, upper, lower) = between(&upper.corners, &lower.corners);
        Some(Meeting { score: -square.sqrt(), upper, lower })
    }

    fn raise(&mut self, best: f64) {
        self.far = -best + EQUAL;
    }
}

/// Square of the distance of two triangles, and a point on each that is so near.
fn between(one: &[Vector3<f64>; 3], other: &[Vector3<f64>; 3]) -> (f64, Vector3<f64>, Vector3<f64>) {
    let mut best = (f64::INFINITY, one[0], other[0]);
    let mut offer = |a: Vector3<f64>, b: Vector3<f64>| {
        let square = (a - b).norm_squared();
        if square < best.0 {
            best = (square, a, b);
        }
    };
    for corner in other {
        offer(nearest_in(one, corner), *corner);
    }
    for corner in one {
        offer(*corner, nearest_in(other, corner));
    }
    for (a, b) in [(0, 1), (1, 2), (2, 0)] {
        for (c, d) in [(0, 1), (1, 2), (2, 0)] {
            let (on_one, on_other) = segments([&one[a], &one[b]], [&other[c], &other[d]]);
            offer(on_one, on_other);
        }
        if let Some(at) = pierced([&one[a], &one[b]], other).or_else(|| pierced([&other[a], &other[b]], one))
        {
            offer(at, at);
        }
    }
    best
}

/// Where a segment goes through a triangle.
fn pierced([from, to]: [&Vector3<f64>; 2], corners: &[Vector3<f64>; 3]) -> Option<Vector3<f64>> {
    let [a, b, c] = corners;
    let normal = (b - a).cross(&(c - a));
    let (before, after) = (normal.dot(&(from - a)), normal.dot(&(to - a)));
    if before * after > 0.0 || before == after {
        return None;
    }
    let at = from + (to - from) * (before / (before - after));
    let is_inside = [(a, b), (b, c), (c, a)]
        .iter()
        .all(|(start, end)| (*end - *start).cross(&(at - *start)).dot(&normal) >= 0.0);
    is_inside.then_some(at)
}

/// The points of two segments that are nearest to each other. Where they are parallel one such pair.
fn segments([a, b]: [&Vector3<f64>; 2], [c, d]: [&Vector3<f64>; 2]) -> (Vector3<f64>, Vector3<f64>) {
    let (one, other, between) = (b - a, d - c, c - a);
    let (aa, ab, bb) = (one.norm_squared(), one.dot(&other), other.norm_squared());
    let (ac, bc) = (one.dot(&between), other.dot(&between));
    let part = |number: f64| if number.is_finite() { number.clamp(0.0, 1.0) } else { 0.0 };
    // The nearest on the first line, then the nearest to it on the other segment, then back.
    let along = part((ac * bb - bc * ab) / (aa * bb - ab * ab));
    let across = part((along * ab - bc) / bb);
    let along = part((ac + across * ab) / aa);
    (a + one * along, c + other * across)
}

/// The point of a triangle nearest to a point.
#[inline]
pub(super) fn nearest_in(corners: &[Vector3<f64>; 3], point: &Vector3<f64>) -> Vector3<f64> {
    let [a, b, c] = corners.each_ref().map(towards);
    let found = Triangle::new(a, b, c).project_local_point(towards(point), false).point;
    Vector3::new(found.x, found.y, found.z)
}

#[inline]
fn towards(v: &Vector3<f64>) -> Vector {
    Vector::new(v.x, v.y, v.z)
}

/// The point of a surface nearest to a point.
#[derive(Clone, Copy, Debug)]
pub(super) struct Near {
    pub(super) at: Vector3<f64>,
    pub(super) distance: f64,
    pub(super) triangle: u32,
}

/// The point of a surface nearest to a point of its frame, if it is within a distance.
pub(super) fn nearest_to(surface: &Surface, tree: &Tree, point: &Vector3<f64>, within: f64) -> Option<Near> {
    let mut best = within;
    let mut found: Option<Near> = None;
    let mut open = Vec::with_capacity(STACK);
    open.push((least(tree.node(Tree::ROOT), point), Tree::ROOT));
    while let Some((bound, at)) = open.pop() {
        if bound > best {
            continue;
        }
        let node = tree.node(at);
        for &triangle in tree.triangles(node) {
            let on = nearest_in(&surface.corners(triangle as usize), point);
            let distance = (on - point).norm();
            if distance < best || (distance <= best && found.is_none_or(|found| triangle < found.triangle)) {
                best = distance;
                found = Some(Near { at: on, distance, triangle });
            }
        }
        if !node.is_leaf() {
            let [one, other] = node.children().map(|child| (least(tree.node(child), point), child));
            let nearest_last = if one.0 < other.0 { [other, one] } else { [one, other] };
            open.extend(nearest_last.into_iter().filter(|(bound, _)| *bound <= best));
        }
    }
    found
}

/// No point of the node is nearer than this.
#[inline]
fn least(node: &Node, point: &Vector3<f64>) -> f64 {
    let outside = ((point - node.centre).abs() - node.half).sup(&Vector3::zeros()).norm();
    outside.max(node.normal.dot(point) - node.high)
}

/// Whether a point lies behind a surface: on the inner side where it is nearest to it.
///
/// At the border of an open surface, or where the nearest triangle has no side, nothing lies behind.
pub(super) fn is_behind(surface: &Surface, joins: &Joins, near: &Near, point: &Vector3<f64>) -> bool {
    let outward = joins.outward(near.triangle, &near.at, surface);
    outward.is_some_and(|outward| outward.dot(&(point - near.at)) < 0.0)
}
