//! Opening straight down: the lower surface goes by s against z. The gap along z is then −s at the
//! first touch, below zero where the surfaces pass through each other.

use nalgebra::Vector3;

use super::map::{Map, Placed};
use super::opening::{Farthest, Opening, is_along, least, most};

/// Edges nearly parallel in plan cross at a place that rounding moves along them; where it leaves the two
/// points farther aside than this they are taken for parallel.
const ASIDE_MM: f64 = 1e-10;

/// Opening along −z, by the best opening so far.
#[derive(Clone, Copy, Debug)]
pub(super) struct Lowering {
    by: f64,
}

impl Lowering {
    pub(super) const fn new() -> Self {
        Self { by: 0.0 }
    }
}

/// The upright box about a box.
pub(super) struct Straight {
    centre: Vector3<f64>,
    half: Vector3<f64>,
}

impl Opening for Lowering {
    type Extent = Straight;

    #[inline]
    fn along(&self, normal: &Vector3<f64>, _: &Vector3<f64>) -> f64 {
        -normal.z
    }

    #[inline]
    fn arrival(
        &self,
        point: &Vector3<f64>,
        normal: &Vector3<f64>,
        offset: f64,
        side: f64,
    ) -> Option<Vector3<f64>> {
        let faces = side * -normal.z > 0.0;
        faces.then(|| {
            Vector3::new(point.x, point.y, (offset - normal.x * point.x - normal.y * point.y) / normal.z)
        })
    }

    /// Edges that are parallel in plan have their least gap at a corner.
    #[inline]
    fn crossings(
        &self,
        upper: [&Vector3<f64>; 2],
        lower: [&Vector3<f64>; 2],
    ) -> [Option<[Vector3<f64>; 2]>; 2] {
        let (one, other) = (upper[1] - upper[0], lower[1] - lower[0]);
        let between = lower[0] - upper[0];
        let cross = |a: &Vector3<f64>, b: &Vector3<f64>| a.x * b.y - a.y * b.x;
        let area = cross(&one, &other);
        let (along, across) = (cross(&between, &other) / area, cross(&between, &one) / area);
        let (on_upper, on_lower) = (upper[0] + one * along, lower[0] + other * across);
        let is_crossing = is_along(along)
            && is_along(across)
            && (on_upper.x - on_lower.x).abs().max((on_upper.y - on_lower.y).abs()) < ASIDE_MM;
        [is_crossing.then_some([on_upper, on_lower]), None]
    }

    #[inline]
    fn between(&self, upper: &Vector3<f64>, lower: &Vector3<f64>) -> f64 {
        lower.z - upper.z
    }

    #[inline]
    fn extent(&self, map: &Map, node: &Placed) -> Straight {
        Straight { centre: node.centre, half: map.sizes(node) }
    }

    /// In plan.
    #[inline]
    fn across(&self, corners: &[Vector3<f64>; 3]) -> [[f64; 2]; 2] {
        let xs = corners.each_ref().map(|corner| corner.x);
        let ys = corners.each_ref().map(|corner| corner.y);
        [[least(xs), most(xs)], [least(ys), most(ys)]]
    }

    #[inline]
    fn reach(&self, upper: &Straight, lower: &Straight) -> Option<Farthest> {
        let sums = upper.half + lower.half;
        let apart = lower.centre - upper.centre;
        let is_clear = apart.x.abs() > sums.x || apart.y.abs() > sums.y;
        // The direction is the same everywhere, so any two places will do.
        let between = Some([upper.centre, lower.centre]);
        (!is_clear).then_some(Farthest { most: apart.z + sums.z, between })
    }

    fn set(&mut self, opening: f64) {
        self.by = opening;
    }

    #[inline]
    fn turned(&self, direction: &Vector3<f64>) -> Vector3<f64> {
        *direction
    }

    #[inline]
    fn turned_back(&self, direction: &Vector3<f64>) -> Vector3<f64> {
        *direction
    }

    #[inline]
    fn shift(&self) -> Vector3<f64> {
        Vector3::new(0.0, 0.0, -self.by)
    }
}
