//! How fast every point goes: the derivative of a movement by what drives it, in closed form.

use nalgebra::Vector3;

use super::holding::Row;
use super::mechanism::Mechanism;
use super::{Movement, NoPose, Obstacle, Station};
use crate::frame::{JawPose, LowerPoint, UpperPoint};

/// The velocity of the jaw at a station of a movement, for each millimetre of its driver: condylar
/// advance, or the sideways way while immediate translation is being made (then for the whole of it).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Velocity {
    jaw: JawPose,
    turn: Vector3<f64>,
    shift: Vector3<f64>,
}

impl Velocity {
    /// A jaw that goes at the rates (ω, v).
    pub(crate) fn of_rates(jaw: JawPose, rates: &Row) -> Self {
        Self { jaw, turn: rates.fixed_rows::<3>(0).into(), shift: rates.fixed_rows::<3>(3).into() }
    }

    /// The turn ω of the jaw, in radians.
    pub(crate) const fn turn(&self) -> &Vector3<f64> {
        &self.turn
    }

    /// The velocity that the jaw gives to a place of the upper frame.
    #[must_use]
    pub(crate) fn at_place(&self, place: &UpperPoint) -> Vector3<f64> {
        self.turn.cross(place.coords()) + self.shift
    }

    /// d(M B): how a point of the lower member goes in the upper frame.
    #[must_use]
    pub fn of_lower(&self, point: &LowerPoint) -> Vector3<f64> {
        self.at_place(&self.jaw.to_upper(point))
    }

    /// −d(U A): how a point of the upper member goes back in the lower frame, which is how the jaw
    /// passes by it.
    #[must_use]
    pub fn of_upper(&self, point: &UpperPoint) -> Vector3<f64> {
        self.jaw.rotation().tr_mul(&self.at_place(point))
    }
}

impl Mechanism {
    /// The velocity at a station, in the direction in which the movement goes on.
    ///
    /// At rest more than one plane of the anterior guide may be touched; the one that the point goes on
    /// along is found. Where a lateral movement starts with immediate translation, the velocity at
    /// [`Station::REST`] is that of the sideways move.
    ///
    /// # Errors
    /// [`NoPose`] where the station has no pose, where teeth or a table formed to them guide, or for
    /// [`Movement::Opening`], which no guide steers.
    pub fn velocity(&self, movement: Movement, station: Station) -> Result<Velocity, NoPose> {
        let placed = self.at(movement, station)?;
        let failed = |obstacle| self.no_pose(movement, station.advance(), obstacle);
        let holding = self.holding(movement, station, &placed).map_err(failed)?;
        let rates = holding.driven().ok_or_else(|| failed(Obstacle::GuideNotReached))?;
        Ok(Velocity::of_rates(placed.jaw, &rates))
    }
}
