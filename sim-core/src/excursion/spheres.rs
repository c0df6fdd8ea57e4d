//! Placing the two condylar spheres in their guides. Every case is a linear or quadratic equation.

use super::closed_form::{Shift, Span, Turned, advanced_together, turned};
use super::mechanism::Mechanism;
use super::{Movement, Obstacle, Station};
use crate::frame::{PerSide, Side};

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

    #[inline]
    fn advanced_together(&self, advance: f64) -> Result<Pair, Obstacle> {
        let drops = [self.drop_mm(Side::Right, advance)?, self.drop_mm(Side::Left, advance)?];
        let tan_tilts = [self.walls.right.tan_tilt(), self.walls.left.tan_tilt()];
        let [right, left] = advanced_together(self.span(), advance, drops, tan_tilts);
        self.bridged(PerSide { right, left })
    }

    #[inline]
    fn turned(&self, working: Side, ratio: f64, station: Station) -> Result<Pair, Obstacle> {
        let orbiting = working.opposite();
        let (orbit, work) = (&self.walls[orbiting], &self.walls[working]);
        let t = station.advance().mm();
        let given = Turned {
            ratio,
            t,
            wall_medial: orbit.medial_mm(t, station.shifted()),
            orbit_drop: self.drop_mm(orbiting, t)?,
            orbit_tan_tilt: orbit.tan_tilt(),
            seat_drop: if ratio > 0.0 { self.drop_mm(working, ratio * t)? } else { 0.0 },
            tan_retrusion: work.tan_retrusion(),
            tan_surtrusion: work.tan_surtrusion(),
        };
        let [orbiting, moved] = turned(self.span(), &given);
        self.bridged(match working {
            Side::Right => PerSide { right: moved, left: orbiting },
            Side::Left => PerSide { right: orbiting, left: moved },
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

    /// The spheres, where walls and distance leave a place for them.
    #[inline]
    fn bridged(&self, pair: Pair) -> Result<Pair, Obstacle> {
        if pair.right.medial.is_nan() || pair.left.medial.is_nan() {
            return Err(Obstacle::Unbridged { distance_mm: self.distance });
        }
        Ok(pair)
    }

    pub(super) const fn span(&self) -> Span {
        Span { sense: self.sense, distance: self.distance }
    }
}
