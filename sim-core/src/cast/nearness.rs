//! The least true distance of two surfaces, and of a point from a surface.

use nalgebra::Vector3;
use parry3d_f64::math::Vector;
use parry3d_f64::query::PointQuery;
use parry3d_f64::shape::Triangle;

use super::Surface;
use super::joins::Joins;
use super::map::{Map, Placed};
use super::opening::least;
use super::search::{EQUAL, Facet, Meeting, STACK, Search};
use super::tree::{Node, Tree};
use crate::cusp::Arch;

/// The search for the least distance, in the upper frame; the score is its negative.
pub(super) struct Nearness {
    upper: Map,
    lower: Map,
    /// The least distance so far, and a little.
    far: f64,
}

impl Nearness {
    /// Given the map from the lower frame to the upper.
    pub(super) fn new(lower: Map) -> Self {
        Self { upper: Map::identity(), lower, far: f64::INFINITY }
    }
}

/// A triangle and the upright box about it.
pub(super) struct Boxed {
    facet: Facet,
    least: Vector3<f64>,
    most: Vector3<f64>,
}

impl Boxed {
    #[inline]
    fn new(corners: [Vector3<f64>; 3]) -> Self {
        let [a, b, c] = &corners;
        let (least, most) = (a.inf(b).inf(c), a.sup(b).sup(c));
        Self { facet: Facet::new(corners), least, most }
    }

    /// Square of the distance of the boxes.
    #[inline]
    fn boxes_apart(&self, other: &Self) -> f64 {
        let outside = (self.least - other.most).sup(&(other.least - self.most));
        outside.sup(&Vector3::zeros()).norm_squared()
    }

    /// How far the plane of either has the other in front of it; below zero where neither has.
    #[inline]
    fn planes_apart(&self, other: &Self) -> f64 {
        let before = |one: &Facet, other: &Facet| {
            let [first, ..] = &one.corners;
            let over = |corner: &Vector3<f64>| one.normal.dot(&(corner - first));
            least([over(&other.corners[0]), over(&other.corners[1]), over(&other.corners[2])])
        };
        before(&self.facet, &other.facet).max(before(&other.facet, &self.facet))
    }

    /// No two points of them are nearer to each other than this.
    #[inline]
    pub(super) fn apart(&self, other: &Self) -> f64 {
        self.boxes_apart(other).sqrt().max(self.planes_apart(other))
    }
}

impl Search for Nearness {
    /// With half the sides of the upright box about it.
    type Place = (Placed, Vector3<f64>);
    type Facet = Boxed;

    #[inline]
    fn node(&self, arch: Arch, node: &Node) -> Self::Place {
        let map = match arch {
            Arch::Upper => &self.upper,
            Arch::Lower => &self.lower,
        };
        let placed = map.node(node);
        (placed, map.sizes(&placed))
    }

    #[inline]
    fn facet(&self, arch: Arch, corners: &[Vector3<f64>; 3]) -> Boxed {
        Boxed::new(match arch {
            Arch::Upper => *corners,
            Arch::Lower => self.lower.corners(corners),
        })
    }

    /// The distance of the boxes, or of the planes along either mean normal that each node lies behind.
    #[inline]
    fn bound(&self, (upper, upper_sizes): &Self::Place, (lower, lower_sizes): &Self::Place) -> f64 {
        let apart = lower.centre - upper.centre;
        let boxes = (apart.abs() - upper_sizes - lower_sizes).sup(&Vector3::zeros()).norm();
        let tilt = upper.normal + lower.normal;
        let highs = upper.high + lower.high;
        let over_upper = tilt.dot(&lower.centre) - self.lower.reach(lower, &tilt) - highs;
        let over_lower = tilt.dot(&upper.centre) - self.upper.reach(upper, &tilt) - highs;
        -boxes.max(over_upper).max(over_lower)
    }

    #[inline]
    fn is_less(&self, upper: &Boxed, lower: &Boxed) -> bool {
        upper.boxes_apart(lower) > self.far * self.far || upper.planes_apart(lower) > self.far
    }

    fn score(&self, upper: &Boxed, lower: &Boxed) -> Option<Meeting> {
        let (square, upper, lower) = between(&upper.facet.corners, &lower.facet.corners);
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
    let (a, b, c) = (towards(&corners[0]), towards(&corners[1]), towards(&corners[2]));
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

/// The nearest of the triangles gone through so far; of equally near ones that of the lowest number.
pub(super) struct Closest {
    square: f64,
    found: Option<(Vector3<f64>, u32)>,
}

impl Closest {
    /// The seed, if there is one and it is within the distance; of those farther off there will be none.
    pub(super) fn begun(surface: &Surface, point: &Vector3<f64>, within: f64, seed: Option<u32>) -> Self {
        let mut closest = Self { square: within * within, found: None };
        if let Some(seed) = seed {
            closest.offer(&surface.corners(seed as usize), point, seed);
        }
        closest
    }

    /// Square of the distance so far.
    #[inline]
    pub(super) const fn square(&self) -> f64 {
        self.square
    }

    #[inline]
    pub(super) fn offer(&mut self, corners: &[Vector3<f64>; 3], point: &Vector3<f64>, triangle: u32) {
        let on = nearest_in(corners, point);
        let square = (on - point).norm_squared();
        let is_first = || self.found.is_none_or(|(_, found)| triangle < found);
        if square < self.square || (square <= self.square && is_first()) {
            (self.square, self.found) = (square, Some((on, triangle)));
        }
    }

    pub(super) fn found(self) -> Option<Near> {
        let distance = self.square.sqrt();
        self.found.map(|(at, triangle)| Near { at, distance, triangle })
    }
}

/// The point of a surface nearest to a point of its frame, if it is within a distance. A triangle that may be
/// near, as one that is nearest to a neighbour of the point, makes it quicker and changes nothing.
pub(super) fn nearest_to(
    surface: &Surface,
    tree: &Tree,
    point: &Vector3<f64>,
    within: f64,
    seed: Option<u32>,
) -> Option<Near> {
    let mut closest = Closest::begun(surface, point, within, seed);
    let mut open = Vec::with_capacity(STACK);
    open.push((outside(tree.node(Tree::ROOT), point), Tree::ROOT));
    while let Some((bound, at)) = open.pop() {
        if bound > closest.square {
            continue;
        }
        let node = tree.node(at);
        for &triangle in tree.triangles(node) {
            closest.offer(&surface.corners(triangle as usize), point, triangle);
        }
        if !node.is_leaf() {
            let [one, other] = node.children();
            let bounded = |child| (outside(tree.node(child), point), child);
            let (one, other) = (bounded(one), bounded(other));
            let nearest_last = if one.0 < other.0 { [other, one] } else { [one, other] };
            open.extend(nearest_last.into_iter().filter(|(bound, _)| *bound <= closest.square));
        }
    }
    closest.found()
}

/// No point of the node is nearer than the square root of this.
#[inline]
fn outside(node: &Node, point: &Vector3<f64>) -> f64 {
    let aside = ((point - node.centre).abs() - node.half).sup(&Vector3::zeros()).norm_squared();
    let above = (node.normal.dot(point) - node.high).max(0.0);
    aside.max(above * above)
}

/// Whether a point lies behind a surface: on the inner side where it is nearest to it.
///
/// At the border of an open surface, or where the nearest triangle has no side, nothing lies behind.
pub(super) fn is_behind(surface: &Surface, joins: &Joins, near: &Near, point: &Vector3<f64>) -> bool {
    let outward = joins.outward(near.triangle, &near.at, surface);
    outward.is_some_and(|outward| outward.dot(&(point - near.at)) < 0.0)
}
