//! Closing about the axis through the placed spheres until the guide stops it, in closed form.

use nalgebra::{Matrix3, Vector3};

use super::mechanism::Mechanism;
use super::spheres::{Pair, Shift};
use super::{Guidance, Obstacle};
use crate::anterior::GuidePlane;
use crate::frame::JawPose;

/// How deep another plane may seem pierced, in millimetres, before the pose is refused: above what
/// rounding leaves at a crease, where two planes are touched at once.
const CREASE_MM: f64 = 1e-9;

/// How much more open, in radians, a wing must stop than the plate to be said to guide: where they
/// meet in the middle both are touched, and the plate is named.
const TIE_RAD: f64 = 1e-12;

/// Cosine and sine of the opening angle, and the plane that stops there.
struct Stop {
    cos: f64,
    sin: f64,
    plane: GuidePlane,
}

/// Gap between guided point and plane as the jaw opens by θ: A cos θ + B sin θ − C, positive when
/// clear.
#[derive(Clone, Copy)]
struct Gap {
    a: f64,
    b: f64,
    c: f64,
}

impl Gap {
    /// The opening at which this plane stops the closing: the root where the gap grows with θ.
    #[inline]
    fn stop(self) -> Option<(f64, f64)> {
        let square = self.a * self.a + self.b * self.b;
        let rest = square - self.c * self.c;
        if rest <= 0.0 {
            return None;
        }
        let root = rest.sqrt();
        Some(((self.a * self.c + self.b * root) / square, (self.b * self.c - self.a * root) / square))
    }

    #[inline]
    fn at(self, cos: f64, sin: f64) -> f64 {
        self.a * cos + self.b * sin - self.c
    }
}

/// The member that carries the spheres, placed but for its turn about the axis through them.
struct Carrier {
    /// Least rotation that takes the axis at rest to the axis now.
    turn: Matrix3<f64>,
    middle: Vector3<f64>,
    /// +1 where the jaw's opening turns the carrier by +θ (arcon), −1 by −θ.
    sign: f64,
}

impl Carrier {
    fn new(mechanism: &Mechanism, [right, left]: &Pair) -> Self {
        let sign = mechanism.sign;
        let place = |shift: &Shift, outward: f64| {
            Vector3::new(
                sign * shift.advance,
                outward * (mechanism.distance / 2.0 - sign * shift.medial),
                -sign * shift.drop,
            )
        };
        let (right, left) = (place(right, -1.0), place(left, 1.0));
        let axis = left - right;
        let [[x, y, z]] = (axis / axis.norm()).data.0;
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
        Self { turn, middle: (left + right) / 2.0, sign }
    }

    /// Pose of the carrier in the other member's frame.
    fn pose(&self, cos: f64, sin: f64) -> JawPose {
        let sin = sin * self.sign;
        let (x, y, z) = (self.turn.column(0), self.turn.column(1), self.turn.column(2));
        let rotation = Matrix3::from_columns(&[x * cos - z * sin, y.into_owned(), x * sin + z * cos]);
        JawPose::new(rotation, self.middle)
    }
}

impl Mechanism {
    /// The jaw pose with the spheres placed and the guide touched.
    #[inline]
    pub(super) fn close(&self, spheres: &Pair) -> Result<(JawPose, Guidance), Obstacle> {
        let carrier = Carrier::new(self, spheres);
        let stop = self.first_stop(&carrier)?;
        let pose = self.jaw_pose(&carrier, stop.cos, stop.sin);
        let guidance =
            if self.is_table { Guidance::Table(stop.plane) } else { Guidance::Incisors(stop.plane) };
        Ok((pose, guidance))
    }

    /// The jaw pose with the spheres placed and the jaw turned open by an angle about their axis.
    pub(super) fn opened(&self, spheres: &Pair, radians: f64) -> JawPose {
        let (sin, cos) = radians.sin_cos();
        self.jaw_pose(&Carrier::new(self, spheres), cos, sin)
    }

    fn jaw_pose(&self, carrier: &Carrier, cos: f64, sin: f64) -> JawPose {
        let pose = carrier.pose(cos, sin);
        if self.spheres_on_lower() { pose } else { pose.inverse() }
    }

    /// The most open of the planes' stops is the first that the closing jaw meets.
    fn first_stop(&self, carrier: &Carrier) -> Result<Stop, Obstacle> {
        let mut first: Option<Stop> = None;
        for plane in self.planes.iter() {
            let gap = self.gap(carrier, &plane.normal, plane.offset_mm);
            if let Some((cos, sin)) = gap.stop() {
                let more_open = first.as_ref().is_none_or(|stop| sin * stop.cos - stop.sin * cos > TIE_RAD);
                if more_open {
                    first = Some(Stop { cos, sin, plane: plane.which });
                }
            }
        }
        let stop = first.filter(|stop| stop.cos > 0.0).ok_or(Obstacle::GuideNotReached)?;
        let pierced = self.planes.iter().any(|plane| {
            self.gap(carrier, &plane.normal, plane.offset_mm).at(stop.cos, stop.sin) < -CREASE_MM
        });
        if pierced { Err(Obstacle::GuideNotReached) } else { Ok(stop) }
    }

    /// With P = middle + turn·Ry(ψ) the carrier's pose and ψ = ±θ: a point g fixed to the carrier
    /// has n·P g = n·middle + (turnᵀn)·Ry(ψ)g; a plane fixed to the carrier sees
    /// n·P⁻¹g = n·Ry(−ψ)h with h = turnᵀ(g − middle). Both are linear in cos ψ and sin ψ.
    #[inline]
    fn gap(&self, carrier: &Carrier, normal: &Vector3<f64>, offset: f64) -> Gap {
        let (a, b, c) = if self.point_on_carrier() {
            let (n, g) = (carrier.turn.tr_mul(normal), &self.guided_point);
            (n.x * g.x + n.z * g.z, n.x * g.z - n.z * g.x, offset - normal.dot(&carrier.middle) - n.y * g.y)
        } else {
            let (n, h) = (normal, carrier.turn.tr_mul(&(self.guided_point - carrier.middle)));
            (n.x * h.x + n.z * h.z, n.z * h.x - n.x * h.z, offset - n.y * h.y)
        };
        // A pin is above its table, a lower incisal edge below the upper inclines.
        let clear = if self.is_table { 1.0 } else { -1.0 };
        Gap { a: clear * a, b: clear * b * carrier.sign, c: clear * c }
    }
}
