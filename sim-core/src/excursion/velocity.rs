//! How fast every point goes: the derivative of a movement by what drives it, in closed form.
//!
//! Each of the six equations that hold a pose is differentiated as it stands. With V(q) = ω×q + v the
//! velocity that the jaw gives to a place q of the upper frame, a point B of the lower member goes at
//! V(M B) there, and −U A of the upper member at Rᵀ V(A) in the lower frame. So every condyle reading
//! and every gap to a plane changes at a rate g·V(q), linear in the six numbers (ω, v).

use nalgebra::{Matrix6, Vector3, Vector6};

use super::mechanism::{Front, Mechanism};
use super::{Movement, NoPose, Obstacle, Placement, Station};
use crate::frame::{JawPose, LowerPoint, Side, UpperPoint};
use crate::instrument::seat;
use crate::units::Length;

/// How near a plane the guided point is taken to touch it, in millimetres: above what rounding
/// leaves of a pose, below any clearance that could matter.
const TOUCHED_MM: f64 = 1e-8;
/// How fast a touched plane may seem to be pierced, in millimetres a millimetre, by rounding.
const PIERCING: f64 = 1e-9;

/// The velocity of the jaw at a station of a movement, for each millimetre of its driver: condylar
/// advance, or the sideways way while immediate translation is being made (then for the whole of it).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Velocity {
    jaw: JawPose,
    turn: Vector3<f64>,
    shift: Vector3<f64>,
}

impl Velocity {
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

/// A rate g·V(q), as a row for (ω, v): (q×g, g).
type Row = Vector6<f64>;

fn row(place: &Vector3<f64>, along: &Vector3<f64>) -> Row {
    let turn = place.cross(along);
    Row::new(turn.x, turn.y, turn.z, along.x, along.y, along.z)
}

/// The rates of one condyle's reading.
struct CondyleRates {
    advance: Row,
    medial: Row,
    drop: Row,
}

/// What the guides demand of the condyles: five rates and their values.
type Demands = [(Row, f64); 5];

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
        let demands = self.demands(movement, station, &placed).map_err(failed)?;
        let planes = self.plane_rates(&placed.jaw).map_err(failed)?;
        let touched = || planes.iter().filter(|(gap, _)| *gap <= TOUCHED_MM).map(|(_, row)| row);
        let mut matrix = Matrix6::zeros();
        let mut values = Vector6::zeros();
        for (index, (row, value)) in demands.iter().enumerate() {
            matrix.set_row(index, &row.transpose());
            values[index] = *value;
        }
        for plane in touched() {
            matrix.set_row(5, &plane.transpose());
            let Some(rates) = matrix.lu().solve(&values) else { continue };
            if touched().all(|other| other.dot(&rates) >= -PIERCING) {
                let (turn, shift) = (rates.fixed_rows::<3>(0).into(), rates.fixed_rows::<3>(3).into());
                return Ok(Velocity { jaw: placed.jaw, turn, shift });
            }
        }
        Err(failed(Obstacle::GuideNotReached))
    }

    fn condyle_rates(&self, jaw: &JawPose, side: Side) -> CondyleRates {
        let distance = Length::from_mm(self.distance);
        let place: UpperPoint =
            if self.spheres_on_lower() { jaw.to_upper(&seat(side, distance)) } else { seat(side, distance) };
        let reading = |axis: Vector3<f64>| {
            let along = if self.spheres_on_lower() { axis } else { jaw.rotation() * axis };
            row(place.coords(), &along)
        };
        CondyleRates {
            advance: reading(Vector3::x()),
            medial: reading(Vector3::y() * -side.outward_y()),
            drop: reading(-Vector3::z()),
        }
    }

    fn demands(&self, movement: Movement, station: Station, placed: &Placement) -> Result<Demands, Obstacle> {
        let rates = |side| self.condyle_rates(&placed.jaw, side);
        let slope = |side: Side, advance: f64| {
            self.walls[side].drop_slope(advance).map_err(|end| Obstacle::PastEnd {
                side,
                path: end.path,
                ends_at_mm: end.ends_at_mm,
            })
        };
        let t = station.advance().mm();
        let (working, ratio) = match movement {
            Movement::Protrusive => {
                let (right, left) = (rates(Side::Right), rates(Side::Left));
                let superior = |rates: &CondyleRates, side: Side| {
                    let tilt = self.walls[side].tan_tilt;
                    slope(side, t).map(|slope| (rates.drop - rates.medial * tilt, slope))
                };
                return Ok([
                    (right.advance, 1.0),
                    (left.advance, 1.0),
                    superior(&right, Side::Right)?,
                    superior(&left, Side::Left)?,
                    (right.medial - left.medial, 0.0),
                ]);
            }
            Movement::Lateral { working } => (working, 0.0),
            Movement::Lateroprotrusive { working, ratio } => (working, ratio.get()),
            Movement::Opening => return Err(Obstacle::GuideNotReached),
        };
        let orbiting = working.opposite();
        let (orbit, work) = (&self.walls[orbiting], &self.walls[working]);
        let sideways = orbit.immediate_mm() > 0.0 && station.is_before_advance();
        let (advancing, medial) =
            if sideways { (0.0, orbit.immediate_mm()) } else { (1.0, orbit.medial_slope(t)) };
        let orbiting_drop = slope(orbiting, t)? * advancing;
        let working_drop = if ratio > 0.0 { slope(working, ratio * t)? * ratio * advancing } else { 0.0 };
        let (o, w) = (rates(orbiting), rates(working));
        Ok([
            (o.advance, advancing),
            (o.medial, medial * (1.0 - ratio)),
            (o.drop - o.medial * orbit.tan_tilt, orbiting_drop),
            (w.advance - w.medial * work.tan_retrusion, ratio * advancing),
            (w.drop - w.medial * work.tan_surtrusion, working_drop),
        ])
    }

    /// The gap to each plane of the anterior guide, in millimetres, and the rate at which it grows.
    fn plane_rates(&self, jaw: &JawPose) -> Result<[(f64, Row); 3], Obstacle> {
        match &self.front {
            Front::Table(planes) => {
                let tip = UpperPoint::from_coords(self.guided_point);
                let below = jaw.to_lower(&tip);
                Ok(planes.each_ref().map(|plane| {
                    let gap = plane.normal.dot(below.coords()) - plane.offset_mm;
                    (gap, row(&self.guided_point, &-(jaw.rotation() * plane.normal)))
                }))
            }
            Front::Incisors(planes) => {
                let edge = jaw.to_upper(&LowerPoint::from_coords(self.guided_point));
                Ok(planes.each_ref().map(|plane| {
                    let gap = plane.offset_mm - plane.normal.dot(edge.coords());
                    (gap, row(edge.coords(), &-plane.normal))
                }))
            }
            Front::Teeth { .. } | Front::Custom(_) => Err(Obstacle::NoPlanes),
        }
    }
}
