//! Closing about the axis through the placed spheres until the guide stops it, in closed form.

use nalgebra::{Matrix3, Vector3};

use super::mechanism::{Front, Mechanism};
use super::spheres::{Pair, Shift};
use super::{Guidance, Obstacle};
use crate::anterior::{GuidePlane, Plane};
use crate::cast::LastPairs;
use crate::frame::{JawPose, PerSide};
use crate::units::Length;

/// The jaw closed on its guide.
#[derive(Clone, Copy)]
pub(super) struct Closed {
    pub(super) jaw: JawPose,
    pub(super) guidance: Guidance,
    /// How far the pin is off its table, where teeth may lead.
    pub(super) pin_lift: Option<Length>,
}

/// How deep a plane may seem pierced, in millimetres, and still be taken for touched: above what
/// rounding leaves at a crease, where two planes are touched at once. There the plate is named.
const CREASE_MM: f64 = 1e-9;

/// Cosine and sine of the opening angle, and the plane that stops there.
#[derive(Clone, Copy)]
pub(super) struct Stop {
    pub(super) cos: f64,
    pub(super) sin: f64,
    pub(super) plane: GuidePlane,
}

/// Gap between guided point and plane as the jaw opens by θ: A cos θ + B sin θ − C, positive when
/// clear.
#[derive(Clone, Copy)]
pub(super) struct Gap {
    a: f64,
    b: f64,
    c: f64,
}

impl Gap {
    /// The opening at which this plane stops the closing: the root where the gap grows with θ.
    #[inline]
    pub(super) fn stop(self) -> Option<(f64, f64)> {
        let square = self.a * self.a + self.b * self.b;
        let rest = square - self.c * self.c;
        if rest <= 0.0 {
            return None;
        }
        let (root, inverse) = (rest.sqrt(), 1.0 / square);
        Some(((self.a * self.c + self.b * root) * inverse, (self.b * self.c - self.a * root) * inverse))
    }

    #[inline]
    pub(super) fn at(self, cos: f64, sin: f64) -> f64 {
        self.a * cos + self.b * sin - self.c
    }
}

/// The member that carries the spheres, placed but for its turn about the axis through them.
pub(super) struct Carrier {
    /// Least rotation that takes the axis at rest to the axis now.
    pub(super) turn: Matrix3<f64>,
    pub(super) middle: Vector3<f64>,
    /// +1 where the jaw's opening turns the carrier by +θ (arcon), −1 by −θ.
    sense: f64,
}

impl Carrier {
    #[inline]
    fn new(mechanism: &Mechanism, PerSide { right, left }: &Pair) -> Self {
        let sense = mechanism.sense;
        let place = |shift: &Shift, outward: f64| {
            Vector3::new(
                sense * shift.advance,
                outward * (mechanism.distance / 2.0 - sense * shift.medial),
                -sense * shift.drop,
            )
        };
        let (right, left) = (place(right, -1.0), place(left, 1.0));
        // The spheres are placed at their distance to rounding, so this is of unit length to it.
        let axis = (left - right) * mechanism.inverse_distance;
        let (x, y, z) = (axis.x, axis.y, axis.z);
        let k = 1.0 / (1.0 + y);
        let turn = Matrix3::new(
            1.0 - x * x * k,
            x,
            -x * z * k, //
            -x,
            y,
            -z, //
            -x * z * k,
            z,
            1.0 - z * z * k,
        );
        Self { turn, middle: (left + right) / 2.0, sense }
    }

    /// Pose of the carrier in the other member's frame.
    #[inline]
    fn pose(&self, cos: f64, sin: f64) -> JawPose {
        let sin = sin * self.sense;
        let (x, y, z) = (self.turn.column(0), self.turn.column(1), self.turn.column(2));
        let rotation = Matrix3::from_columns(&[x * cos - z * sin, y.into_owned(), x * sin + z * cos]);
        JawPose::rigid(rotation, self.middle)
    }
}

impl Mechanism {
    /// The jaw pose with the spheres placed and the guide touched.
    #[inline]
    pub(super) fn close(&self, spheres: &Pair, warm: &mut LastPairs) -> Result<Closed, Obstacle> {
        let carrier = Carrier::new(self, spheres);
        let (planes, guidance): (_, fn(GuidePlane) -> Guidance) = match &self.front {
            Front::Table(planes) => (planes, Guidance::Table),
            Front::Incisors(planes) => (planes, Guidance::Incisors),
            Front::Teeth { planes, casts } => {
                return self.close_on_teeth(&carrier, planes, casts.as_deref(), warm);
            }
            Front::Custom(facets) => return self.close_on_custom_table(&carrier, facets),
        };
        let stop = self.first_stop(&carrier, planes)?;
        let jaw = self.jaw_pose(&carrier, stop.cos, stop.sin);
        Ok(Closed { jaw, guidance: guidance(stop.plane), pin_lift: None })
    }

    /// The jaw pose with the spheres placed and the jaw turned open by an angle about their axis.
    pub(super) fn opened(&self, spheres: &Pair, radians: f64) -> JawPose {
        let (sin, cos) = radians.sin_cos();
        self.jaw_pose(&Carrier::new(self, spheres), cos, sin)
    }

    #[inline]
    pub(super) fn jaw_pose(&self, carrier: &Carrier, cos: f64, sin: f64) -> JawPose {
        let pose = carrier.pose(cos, sin);
        if self.spheres_on_lower() { pose } else { pose.inverse() }
    }

    /// The most open of the planes' stops is the first that the closing jaw meets. A plane that is
    /// clear where another stops need not be asked for its own stop.
    #[inline]
    pub(super) fn first_stop(&self, carrier: &Carrier, planes: &[Plane; 3]) -> Result<Stop, Obstacle> {
        let gaps = self.gaps(carrier, planes);
        let mut first: Option<Stop> = None;
        for (plane, gap) in planes.iter().zip(&gaps) {
            if first.as_ref().is_some_and(|stop| gap.at(stop.cos, stop.sin) >= -CREASE_MM) {
                continue;
            }
            let Some((cos, sin)) = gap.stop() else { continue };
            if first.as_ref().is_none_or(|stop| sin * stop.cos - stop.sin * cos > 0.0) {
                first = Some(Stop { cos, sin, plane: plane.which });
            }
        }
        let stop = first.filter(|stop| stop.cos > 0.0).ok_or(Obstacle::GuideNotReached)?;
        let pierced = gaps.iter().any(|gap| gap.at(stop.cos, stop.sin) < -CREASE_MM);
        if pierced { Err(Obstacle::GuideNotReached) } else { Ok(stop) }
    }

    /// The gap to each plane. With P = middle + turn·Ry(ψ) the carrier's pose and ψ = ±θ: a point g
    /// fixed to the carrier has n·P g = n·middle + (turnᵀn)·Ry(ψ)g; a plane fixed to the carrier
    /// sees n·P⁻¹g = n·Ry(−ψ)h with h = turnᵀ(g − middle). Both are linear in cos ψ and sin ψ.
    #[inline]
    pub(super) fn gaps<const N: usize>(&self, carrier: &Carrier, planes: &[Plane; N]) -> [Gap; N] {
        let gap = self.gap_to(carrier);
        planes.each_ref().map(|plane| gap(&plane.normal, plane.offset_mm))
    }

    /// The gap to any plane, from its normal and offset.
    #[inline]
    pub(super) fn gap_to(&self, carrier: &Carrier) -> impl Fn(&Vector3<f64>, f64) -> Gap {
        // A pin is above its table, a lower incisal edge below the upper inclines.
        let clear = if self.has_pin { 1.0 } else { -1.0 };
        let turned = clear * carrier.sense;
        let on_carrier = self.point_on_carrier();
        let g = self.guided_point;
        let (turn, middle) = (carrier.turn, carrier.middle);
        let h = turn.tr_mul(&(g - middle));
        move |normal, offset| {
            if on_carrier {
                let n = turn.tr_mul(normal);
                let c = offset - normal.dot(&middle) - n.y * g.y;
                Gap { a: clear * (n.x * g.x + n.z * g.z), b: turned * (n.x * g.z - n.z * g.x), c: clear * c }
            } else {
                let n = normal;
                Gap {
                    a: clear * (n.x * h.x + n.z * h.z),
                    b: turned * (n.z * h.x - n.x * h.z),
                    c: clear * (offset - n.y * h.y),
                }
            }
        }
    }
}
