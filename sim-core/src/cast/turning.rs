//! Opening by a turn about the y axis: (x, z) to (x cos θ + z sin θ, −x sin θ + z cos θ), front down.
//!
//! A point's path is a circle, of one radius and one y. Along it φ = atan2(−z, x) grows by θ, and the
//! direction of the opening is (z, 0, −x).

use std::f64::consts::PI;

use nalgebra::Vector3;

use super::map::{Map, Placed};
use super::opening::{Farthest, Opening, is_along, least, most};

/// Edges nearly level come to the same y at a place that rounding moves along them; where it leaves the
/// squares of the radii farther apart than this they are taken for level: some thousand times what
/// rounding leaves of the square of a hundred millimetres.
const ASIDE_MM2: f64 = 1e-9;

/// Opening about the axis, with the turn of the best opening so far.
#[derive(Clone, Copy, Debug)]
pub(super) struct Turning {
    by: f64,
    sin: f64,
    cos: f64,
}

impl Turning {
    pub(super) const fn new() -> Self {
        Self { by: 0.0, sin: 0.0, cos: 1.0 }
    }
}

/// The angle from one place to another about the axis, as the opening counts it.
#[inline]
fn angle(from: &Vector3<f64>, to: &Vector3<f64>) -> f64 {
    (to.x * from.z - to.z * from.x).atan2(to.x * from.x + to.z * from.z)
}

/// A box about the axis: its radii, its part of the axis, and where it begins and ends along the turn.
pub(super) struct Sector {
    /// Where it begins and ends along the axis.
    least: f64,
    most: f64,
    inner: f64,
    outer: f64,
    /// In the direction of the least and of the greatest angle, x and z; none of it counts if it may reach
    /// round the axis.
    start: [f64; 2],
    end: [f64; 2],
    /// Whether it takes up less than a quarter turn.
    is_narrow: bool,
}

impl Sector {
    #[inline]
    fn of(map: &Map, node: &Placed) -> Self {
        let (x, z) = (node.centre.x, node.centre.z);
        let half_width = map.reach(node, &Vector3::y());
        let (least, most) = (node.centre.y - half_width, node.centre.y + half_width);
        let middle = (x * x + z * z).sqrt();
        if middle == 0.0 {
            let outer = node.half.norm() * 2.0;
            let nowhere = [0.0; 2];
            return Self { least, most, inner: 0.0, outer, start: nowhere, end: nowhere, is_narrow: false };
        }
        let (out_x, out_z) = (x / middle, z / middle);
        let deep = map.reach(node, &Vector3::new(out_x, 0.0, out_z));
        let wide = map.reach(node, &Vector3::new(out_z, 0.0, -out_x));
        let inner = middle - deep;
        let end = |wide: f64| [out_x * inner + out_z * wide, out_z * inner - out_x * wide];
        Self {
            least,
            most,
            inner: inner.max(0.0),
            outer: ((middle + deep) * (middle + deep) + wide * wide).sqrt(),
            start: end(-wide),
            end: end(wide),
            is_narrow: wide < inner,
        }
    }
}

impl Opening for Turning {
    type Extent = Sector;

    #[inline]
    fn along(&self, normal: &Vector3<f64>, at: &Vector3<f64>) -> f64 {
        normal.x * at.z - normal.z * at.x
    }

    /// On the circle x² + z² = r² the plane is a line: its foot from the axis, and half a chord on.
    #[inline]
    fn arrival(
        &self,
        point: &Vector3<f64>,
        normal: &Vector3<f64>,
        offset: f64,
        side: f64,
    ) -> Option<Vector3<f64>> {
        let steep = normal.x * normal.x + normal.z * normal.z;
        let distance = offset - normal.y * point.y;
        let chord = steep * (point.x * point.x + point.z * point.z) - distance * distance;
        if chord < 0.0 || steep == 0.0 {
            return None;
        }
        let half = side * chord.sqrt();
        let x = (normal.x * distance - normal.z * half) / steep;
        let z = (normal.z * distance + normal.x * half) / steep;
        Some(Vector3::new(x, point.y, z))
    }

    /// Equal y makes the place on one edge linear in the place on the other, and equal radii are then
    /// a quadratic. The edge that is the steeper in y is the one solved for; where both are level the
    /// greatest opening is at a corner.
    #[inline]
    fn crossings(
        &self,
        upper: [&Vector3<f64>; 2],
        lower: [&Vector3<f64>; 2],
    ) -> [Option<[Vector3<f64>; 2]>; 2] {
        let spans = |edge: [&Vector3<f64>; 2]| (edge[0].y.min(edge[1].y), edge[0].y.max(edge[1].y));
        let (one, other) = (spans(upper), spans(lower));
        if one.0 > other.1 || other.0 > one.1 {
            return [None, None];
        }
        if one.1 - one.0 >= other.1 - other.0 {
            level(upper, lower)
        } else {
            level(lower, upper).map(|pair| pair.map(|[on_lower, on_upper]| [on_upper, on_lower]))
        }
    }

    #[inline]
    fn between(&self, upper: &Vector3<f64>, lower: &Vector3<f64>) -> f64 {
        angle(lower, upper)
    }

    #[inline]
    fn extent(&self, map: &Map, node: &Placed) -> Sector {
        Sector::of(map, node)
    }

    /// Along the axis, and by radius: no point is nearer to the axis than the triangle reaches in the direction
    /// of its middle.
    #[inline]
    fn across(&self, corners: &[Vector3<f64>; 3]) -> [[f64; 2]; 2] {
        let [a, b, c] = corners;
        let (x, z) = (a.x + b.x + c.x, a.z + b.z + c.z);
        let middle = (x * x + z * z).sqrt();
        let squares = corners.each_ref().map(|corner| corner.x * corner.x + corner.z * corner.z);
        let along = corners.each_ref().map(|corner| corner.x * x + corner.z * z);
        let inner = if middle > 0.0 { least(along) / middle } else { 0.0 };
        let ys = corners.each_ref().map(|corner| corner.y);
        [[least(ys), most(ys)], [inner, most(squares).sqrt()]]
    }

    #[inline]
    fn reach(&self, upper: &Sector, lower: &Sector) -> Option<Farthest> {
        if upper.least > lower.most
            || lower.least > upper.most
            || upper.inner > lower.outer
            || lower.inner > upper.outer
        {
            return None;
        }
        let unknown = Farthest { most: PI, between: None };
        // Where both are narrow and in front of each other, the greatest angle between them is less than half
        // a turn, and cannot be mistaken.
        if !(upper.is_narrow && lower.is_narrow) {
            return Some(unknown);
        }
        let middles = |sector: &Sector| [0, 1].map(|axis| sector.start[axis] + sector.end[axis]);
        let (one, other) = (middles(upper), middles(lower));
        if one[0] * other[0] + one[1] * other[1] <= 0.0 {
            return Some(unknown);
        }
        let [end, start] = [upper.end, lower.start].map(|[x, z]| Vector3::new(x, 0.0, z));
        // From the best so far it is a small angle, which its tangent bounds.
        let start = self.turned(&start);
        let (across, along) = (end.x * start.z - end.z * start.x, end.x * start.x + end.z * start.z);
        if along <= 0.0 {
            return Some(unknown);
        }
        let tangent = across / along;
        let most = if tangent > 0.0 { tangent } else { tangent / (1.0 + tangent * tangent) };
        Some(Farthest { most: (self.by + most).min(PI), between: Some([start, end]) })
    }

    fn set(&mut self, opening: f64) {
        self.by = opening;
        (self.sin, self.cos) = opening.sin_cos();
    }

    #[inline]
    fn turned(&self, v: &Vector3<f64>) -> Vector3<f64> {
        Vector3::new(v.x * self.cos + v.z * self.sin, v.y, v.z * self.cos - v.x * self.sin)
    }

    #[inline]
    fn turned_back(&self, v: &Vector3<f64>) -> Vector3<f64> {
        Vector3::new(v.x * self.cos - v.z * self.sin, v.y, v.z * self.cos + v.x * self.sin)
    }

    #[inline]
    fn shift(&self) -> Vector3<f64> {
        Vector3::zeros()
    }
}

/// Points of a steeper and a flatter edge at the same y and the same radius.
#[inline]
fn level(steeper: [&Vector3<f64>; 2], flatter: [&Vector3<f64>; 2]) -> [Option<[Vector3<f64>; 2]>; 2] {
    let (run, step) = (steeper[1] - steeper[0], flatter[1] - flatter[0]);
    if run.y == 0.0 {
        return [None, None];
    }
    // At part t of the flatter edge, the steeper one's point of the same y is start + t·pace.
    let start = steeper[0] + run * ((flatter[0].y - steeper[0].y) / run.y);
    let pace = run * (step.y / run.y);
    let flat = |a: &Vector3<f64>, b: &Vector3<f64>| a.x * b.x + a.z * b.z;
    let roots = quadratic(
        flat(&pace, &pace) - flat(&step, &step),
        flat(&start, &pace) - flat(flatter[0], &step),
        flat(&start, &start) - flat(flatter[0], flatter[0]),
    );
    roots.map(|part| {
        let part = part.filter(|part| is_along(*part))?;
        let on_flatter = flatter[0] + step * part;
        let along = (on_flatter.y - steeper[0].y) / run.y;
        let on_steeper = steeper[0] + run * along;
        let aside = flat(&on_steeper, &on_steeper) - flat(&on_flatter, &on_flatter);
        (is_along(along) && aside.abs() < ASIDE_MM2).then_some([on_steeper, on_flatter])
    })
}

/// Real roots of a t² + 2 b t + c, without cancellation; a double root that rounding would lose counts.
#[inline]
fn quadratic(a: f64, b: f64, c: f64) -> [Option<f64>; 2] {
    /// Parts of b² that rounding can take from b² − ac.
    const ROUNDING: f64 = 1e-14;
    let rest = b * b - a * c;
    if rest < -ROUNDING * b * b {
        return [None, None];
    }
    let far = -(b + rest.max(0.0).sqrt().copysign(b));
    // Not-a-number, where both vanish, and what is beyond all numbers are no place on an edge.
    [Some(far / a), Some(c / far)].map(|root| root.filter(|root| root.is_finite()))
}
