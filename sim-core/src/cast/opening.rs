//! Two surfaces that part along one freedom: the jaw turning about an axis, or going straight down.
//!
//! As the lower surface opens by s, each of its points goes along a path, and where it meets the upper
//! surface is a score: the greatest s at which any two points meet is the first touch of the closing.
//! Seen along the paths both surfaces are height fields over a plane (of radius and y, or of the two
//! directions of the plan), and the height is linear in s. On triangles the greatest difference of
//! heights is taken where a corner of one lies over the other, or where two edges cross: were it taken
//! inside both, one triangle would lie in the other's plane there, and then it is taken all along.
//!
//! Only sides that face each other count: the upper surface where its outward normal goes along the
//! opening, the lower one where it goes against it. So a cast may be closed or open, with a base or
//! without.

use nalgebra::Vector3;

use super::map::{Map, Placed};
use super::search::{Facet, Meeting, Search};
use super::tree::Node;
use crate::cusp::Arch;

/// A triangle whose unit normal goes along the opening by less than this is edge-on and meets
/// nothing: its edges belong to its neighbours too.
const EDGE_ON: f64 = 1e-9;
/// How far outside an edge, in parts of the triangle, a point counts as inside: so that rounding
/// leaves no gap between neighbours.
const SEAM: f64 = 1e-10;
/// Surfaces this much apart, in millimetres, at the best opening so far have nothing as good: far
/// above rounding, and far below what a score of [`super::search::EQUAL`] stands for.
const APART_MM: f64 = 1e-9;

/// How far a pair of nodes may have to open.
pub(super) struct Farthest {
    /// No two of their points meet at a greater opening.
    pub(super) most: f64,
    /// Positions along the path between which they can meet when more open than the best so far: where
    /// the lower node is then at the least, and where the upper is at the most. `None` where that is
    /// not known.
    pub(super) between: Option<[Vector3<f64>; 2]>,
}

/// A way to open.
pub(super) trait Opening {
    /// Where a box lies across the paths and along them.
    type Extent;
    /// That of a box, and the map that has carried it.
    fn extent(&self, map: &Map, node: &Placed) -> Self::Extent;
    /// Between which bounds a triangle lies across the paths, in both directions in which paths lie side by
    /// side, in millimetres.
    fn across(&self, corners: &[Vector3<f64>; 3]) -> [[f64; 2]; 2];
    /// How far the opening goes along a normal, for a point at a place; the sign is what matters.
    fn along(&self, normal: &Vector3<f64>, at: &Vector3<f64>) -> f64;
    /// Where on its path a point meets the plane normal · p = offset, coming to the side on which
    /// [`Self::along`] has the sign of `side`.
    fn arrival(
        &self,
        point: &Vector3<f64>,
        normal: &Vector3<f64>,
        offset: f64,
        side: f64,
    ) -> Option<Vector3<f64>>;
    /// Points of two segments that are on one path.
    fn crossings(
        &self,
        upper: [&Vector3<f64>; 2],
        lower: [&Vector3<f64>; 2],
    ) -> [Option<[Vector3<f64>; 2]>; 2];
    /// The opening that brings a point of the lower surface to one of the upper on the same path.
    fn between(&self, upper: &Vector3<f64>, lower: &Vector3<f64>) -> f64;
    /// How far two nodes may have to open; `None` if they have no path in common.
    fn reach(&self, upper: &Self::Extent, lower: &Self::Extent) -> Option<Farthest>;
    /// From here on `turned`, `turned_back` and `shift` are those of this opening.
    fn set(&mut self, opening: f64);
    /// A direction of the lower surface, at the opening set.
    fn turned(&self, direction: &Vector3<f64>) -> Vector3<f64>;
    /// Its inverse.
    fn turned_back(&self, direction: &Vector3<f64>) -> Vector3<f64>;
    /// The shift of the lower surface at the opening set.
    fn shift(&self) -> Vector3<f64>;
}

/// The search for the greatest opening at which two surfaces meet.
pub(super) struct FirstTouch<O: Opening> {
    opening: O,
    upper: Map,
    lower: Map,
    is_set: bool,
}

impl<O: Opening> FirstTouch<O> {
    /// Both maps lead into the frame of the opening; the lower surface opens by zero there.
    pub(super) const fn new(opening: O, upper: Map, lower: Map) -> Self {
        Self { opening, upper, lower, is_set: false }
    }

    const fn map(&self, arch: Arch) -> &Map {
        match arch {
            Arch::Upper => &self.upper,
            Arch::Lower => &self.lower,
        }
    }

    /// Whether at the best opening so far a plane parts the two nodes that the lower only leaves
    /// farther behind as it opens on.
    ///
    /// With n the mean normal of the upper node and m that of the lower, turned, the upper node lies
    /// below `high` along n. The lower one lies below its own along m, so along n = −m + δ above
    /// −high + δ·p, which its box tells closely when δ is small. The same the other way round.
    #[inline]
    fn is_parted(&self, upper: &Placed, lower: &Placed, between: &[Vector3<f64>; 2]) -> bool {
        let opens =
            |normal: &Vector3<f64>| between.iter().all(|place| self.opening.along(normal, place) >= 0.0);
        let turned = self.opening.turned(&lower.normal);
        let shift = self.opening.shift();
        let apart = upper.normal + turned;
        let back = self.opening.turned_back(&apart);
        let highs = upper.high + lower.high;
        if back.dot(&lower.centre) - self.lower.reach(lower, &back) + upper.normal.dot(&shift) - highs
            > APART_MM
            && opens(&upper.normal)
        {
            return true;
        }
        apart.dot(&upper.centre) - self.upper.reach(upper, &apart) - turned.dot(&shift) - highs > APART_MM
            && opens(&-turned)
    }
}

/// A triangle made ready for a quick look.
pub(super) struct Ready {
    facet: Facet,
    /// As [`Opening::across`].
    across: [[f64; 2]; 2],
    /// Where it is at the best opening when it was made ready, and its normal there.
    now: Facet,
    /// Whether there was one.
    was_set: bool,
}

impl<O: Opening> Search for FirstTouch<O> {
    type Place = (Placed, O::Extent);
    type Facet = Ready;

    #[inline]
    fn node(&self, arch: Arch, node: &Node) -> Self::Place {
        let map = self.map(arch);
        let placed = map.node(node);
        let extent = self.opening.extent(map, &placed);
        (placed, extent)
    }

    #[inline]
    fn facet(&self, arch: Arch, corners: &[Vector3<f64>; 3]) -> Ready {
        let facet = Facet::new(self.map(arch).corners(corners));
        let across = self.opening.across(&facet.corners);
        let now = match arch {
            Arch::Upper => facet,
            Arch::Lower => {
                let shift = self.opening.shift();
                Facet {
                    corners: facet.corners.each_ref().map(|corner| self.opening.turned(corner) + shift),
                    normal: self.opening.turned(&facet.normal),
                }
            }
        };
        Ready { facet, across, now, was_set: self.is_set }
    }

    #[inline]
    fn bound(&self, upper: &Self::Place, lower: &Self::Place) -> f64 {
        let Some(reach) = self.opening.reach(&upper.1, &lower.1) else { return f64::NEG_INFINITY };
        match &reach.between {
            Some(between) if self.is_set && self.is_parted(&upper.0, &lower.0, between) => f64::NEG_INFINITY,
            _ => reach.most,
        }
    }

    /// No path leads from one to the other, or the plane of either parts them at the best opening so far, or
    /// at an earlier one that was less, and the other only goes farther from it.
    #[inline]
    fn is_less(&self, upper: &Ready, lower: &Ready) -> bool {
        let is_aside =
            |[one, other]: [[f64; 2]; 2]| one[0] > other[1] + APART_MM || other[0] > one[1] + APART_MM;
        if is_aside([upper.across[0], lower.across[0]]) || is_aside([upper.across[1], lower.across[1]]) {
            return true;
        }
        if !lower.was_set {
            return false;
        }
        let (upper, now) = (&upper.now, &lower.now);
        let opens = |normal: &Vector3<f64>| {
            upper.corners.iter().chain(&now.corners).all(|place| self.opening.along(normal, place) >= 0.0)
        };
        let [first, ..] = &upper.corners;
        if now.corners.iter().all(|corner| upper.normal.dot(&(corner - first)) > APART_MM)
            && opens(&upper.normal)
        {
            return true;
        }
        let down = -now.normal;
        let [first, ..] = &now.corners;
        upper.corners.iter().all(|corner| down.dot(&(first - corner)) > APART_MM) && opens(&down)
    }

    fn score(&self, upper: &Ready, lower: &Ready) -> Option<Meeting> {
        touch(&self.opening, &upper.facet, &lower.facet)
    }

    fn raise(&mut self, best: f64) {
        self.is_set = best.is_finite();
        if self.is_set {
            self.opening.set(best);
        }
    }
}

/// The greatest opening at which two triangles meet, facing each other.
fn touch<O: Opening>(opening: &O, upper: &Facet, lower: &Facet) -> Option<Meeting> {
    let (down, up) = (upper.normal, lower.normal);
    let (upper, lower) = (&upper.corners, &lower.corners);
    let faces_down = |at: &Vector3<f64>| opening.along(&down, at) > EDGE_ON;
    let faces_up = |at: &Vector3<f64>| opening.along(&up, at) < -EDGE_ON;
    if !upper.iter().any(faces_down) || !lower.iter().any(faces_up) {
        return None;
    }
    let mut best: Option<Meeting> = None;
    let mut offer = |on_upper: Vector3<f64>, on_lower: Vector3<f64>| {
        if faces_down(&on_upper) && faces_up(&on_lower) {
            let score = opening.between(&on_upper, &on_lower);
            if best.is_none_or(|best| score > best.score) {
                best = Some(Meeting { score, upper: on_upper, lower: on_lower });
            }
        }
    };
    let offset = down.dot(&upper[0]);
    for corner in lower {
        let arrival = opening.arrival(corner, &down, offset, 1.0);
        if let Some(at) = arrival.filter(|at| is_inside(upper, &down, at)) {
            offer(at, *corner);
        }
    }
    let offset = up.dot(&lower[0]);
    for corner in upper {
        let arrival = opening.arrival(corner, &up, offset, -1.0);
        if let Some(at) = arrival.filter(|at| is_inside(lower, &up, at)) {
            offer(*corner, at);
        }
    }
    for (a, b) in [(0, 1), (1, 2), (2, 0)] {
        for (c, d) in [(0, 1), (1, 2), (2, 0)] {
            let crossings = opening.crossings([&upper[a], &upper[b]], [&lower[c], &lower[d]]);
            for [on_upper, on_lower] in crossings.into_iter().flatten() {
                offer(on_upper, on_lower);
            }
        }
    }
    best
}

/// Whether a point of a triangle's plane lies in the triangle.
fn is_inside(corners: &[Vector3<f64>; 3], normal: &Vector3<f64>, at: &Vector3<f64>) -> bool {
    let [a, b, c] = corners;
    let area = (b - a).cross(&(c - a)).dot(normal);
    [(a, b), (b, c), (c, a)]
        .iter()
        .all(|(from, to)| (*to - *from).cross(&(at - *from)).dot(normal) >= -SEAM * area)
}

/// Whether a place along a segment, as a part of it, is on the segment.
#[inline]
pub(super) fn is_along(part: f64) -> bool {
    (-SEAM..=1.0 + SEAM).contains(&part)
}

/// The least of three.
#[inline]
pub(super) const fn least([a, b, c]: [f64; 3]) -> f64 {
    a.min(b).min(c)
}

/// The greatest of three.
#[inline]
pub(super) const fn most([a, b, c]: [f64; 3]) -> f64 {
    a.max(b).max(c)
}
