//! Placing the two condylar spheres in their guides. Every case is a linear or quadratic equation.

use super::mechanism::Mechanism;
use super::{Movement, Obstacle, Station};
use crate::frame::{PerSide, Side};

/// Advance, medial shift and drop of one condyle in millimetres.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Shift {
    pub(super) advance: f64,
    pub(super) medial: f64,
    pub(super) drop: f64,
}

/// Both condyles.
pub(super) type Pair = PerSide<Shift>;

impl Mechanism {
    /// Places both spheres at a station of a movement.
    #[inline]
    pub(super) fn spheres(&self, movement: Movement, station: Station) -> Result<Pair, Obstacle> {
        match movement {
            Movement::Protrusive => self.advanced_together(station.advance().mm()),
            Movement::Lateral { working } => self.turned(working, 0.0, station),
            Movement::Lateroprotrusive { working, ratio } => self.turned(working, ratio.get(), station),
            Movement::Opening => Ok(Pair::default()),
        }
    }

    /// Both advance by `a`; v = f(a) + m·tan τ on each side and m is the same on both, which
    /// leaves m to keep the spheres' distance: with drops apart by D + m·T and σ = +1 for arcon,
    /// −1 for non-arcon, (w − 2σm)² + (D + mT)² = w².
    #[inline]
    fn advanced_together(&self, advance: f64) -> Result<Pair, Obstacle> {
        let PerSide { right, left } = &self.walls;
        let drop_right = self.drop_mm(Side::Right, advance)?;
        let drop_left = self.drop_mm(Side::Left, advance)?;
        let apart = drop_left - drop_right;
        let tilt_apart = left.tan_tilt - right.tan_tilt;
        let medial = self.near_root(
            4.0 + tilt_apart * tilt_apart,
            apart * tilt_apart - 2.0 * self.sense * self.distance,
            apart * apart,
        )?;
        let shift = |drop: f64, tan_tilt: f64| Shift { advance, medial, drop: drop + medial * tan_tilt };
        Ok(PerSide { right: shift(drop_right, right.tan_tilt), left: shift(drop_left, left.tan_tilt) })
    }

    /// The orbiting condyle advances by t against its superior and medial walls; the working one
    /// by k·t, free along the axis. Its outward shift s, which bends its way by
    /// lateroretrusion (a = k·t − s·tan ρ) and laterosurtrusion (v = f(k·t) − s·tan κ), keeps the spheres'
    /// distance.
    #[inline]
    fn turned(&self, working: Side, ratio: f64, station: Station) -> Result<Pair, Obstacle> {
        let orbiting = working.opposite();
        let (orbit, work) = (&self.walls[orbiting], &self.walls[working]);
        let t = station.advance().mm();
        let medial = orbit.medial_mm(t, station.shifted()) * (1.0 - ratio);
        let orbiting_shift =
            Shift { advance: t, medial, drop: self.drop_mm(orbiting, t)? + medial * orbit.tan_tilt };
        let seat_drop = if ratio > 0.0 { self.drop_mm(working, ratio * t)? } else { 0.0 };
        let ahead = t * (1.0 - ratio);
        let below = orbiting_shift.drop - seat_drop;
        let (back, up) = (work.tan_retrusion, work.tan_surtrusion);
        let between = self.distance - self.sense * medial;
        let outward = self.near_root(
            1.0 + back * back + up * up,
            ahead * back + self.sense * between + below * up,
            ahead * ahead + below * below + medial * medial - 2.0 * self.sense * self.distance * medial,
        )?;
        let working_shift =
            Shift { advance: ratio * t - outward * back, medial: -outward, drop: seat_drop - outward * up };
        Ok(match working {
            Side::Right => PerSide { right: working_shift, left: orbiting_shift },
            Side::Left => PerSide { right: orbiting_shift, left: working_shift },
        })
    }

    #[inline]
    fn drop_mm(&self, side: Side, advance: f64) -> Result<f64, Obstacle> {
        self.walls[side].drop_mm(advance).map_err(|end| Obstacle::PastEnd {
            side,
            path: end.path,
            ends_at_mm: end.ends_at_mm,
        })
    }

    /// The root nearest zero of a·x² + 2b·x + c = 0, in the form that does not cancel.
    #[inline]
    fn near_root(&self, a: f64, b: f64, c: f64) -> Result<f64, Obstacle> {
        let discriminant = b * b - a * c;
        if discriminant < 0.0 {
            return Err(Obstacle::Unbridged { distance_mm: self.distance });
        }
        Ok(-c / (b + discriminant.sqrt().copysign(b)))
    }
}
