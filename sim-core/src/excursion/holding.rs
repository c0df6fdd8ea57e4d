//! The six equations that hold a pose, each as the rate at which it changes when the jaw goes.
//!
//! Each of the six is differentiated as it stands. With V(q) = ω×q + v the velocity that the jaw gives to a
//! place q of the upper frame, a point B of the lower member goes at V(M B) there, and −U A of the upper
//! member at Rᵀ V(A) in the lower frame. So every condyle reading and every gap to a plane changes at a rate
//! g·V(q), linear in the six numbers (ω, v).

use nalgebra::{Matrix6, Vector3, Vector6};

use super::mechanism::{Front, Mechanism};
use super::{Movement, Obstacle, Placement, Station};
use crate::frame::{JawPose, LowerPoint, Side, UpperPoint};
use crate::instrument::seat;
use crate::units::Length;

/// How near a plane the guided point is taken to touch it, in millimetres: above what rounding
/// leaves of a pose, below any clearance that could matter.
const TOUCHED_MM: f64 = 1e-8;
/// How fast a touched plane may seem to be pierced, in millimetres a millimetre, by rounding.
const PIERCING: f64 = 1e-9;

/// A rate g·V(q), as a row for (ω, v): (q×g, g).
pub(crate) type Row = Vector6<f64>;

fn row(place: &Vector3<f64>, along: &Vector3<f64>) -> Row {
    let turn = place.cross(along);
    Row::new(turn.x, turn.y, turn.z, along.x, along.y, along.z)
}

/// The rates of one condyle's reading.
pub(crate) struct CondyleRates {
    pub(crate) advance: Row,
    pub(crate) medial: Row,
    pub(crate) drop: Row,
}

/// What holds a pose: five equations of the guides and the plane in front.
///
/// The five are, in protrusion: advance right, advance left, drop right, drop left, and that the medial
/// shifts are equal. In every other movement: advance, medial shift and drop of the orbiting condyle, advance
/// and drop of the working one. A drop is counted above its wall's tilt (v − m·tan τ), and the working
/// condyle's advance and drop above the bend of its walls (a − m·tan ρ, v − m·tan κ).
pub(crate) struct Holding {
    rows: [Row; 5],
    /// What the station demands of the five, for each millimetre of what drives.
    driven: [f64; 5],
    /// The gap to each plane in millimetres, and its rate: plate, right wing, left wing.
    planes: [(f64, Row); 3],
}

impl Holding {
    /// How the jaw goes, (ω, v), as the movement goes on.
    pub(crate) fn driven(&self) -> Option<Row> {
        self.going(&self.driven, &[0.0; 3])
    }

    /// How the jaw goes, (ω, v), where the five equations ask for these rates and each plane's gap grows by
    /// itself at its own. Where more than one plane is touched, the one is found that the point goes on along.
    pub(crate) fn going(&self, demanded: &[f64; 5], drifting: &[f64; 3]) -> Option<Row> {
        let mut matrix = Matrix6::zeros();
        let mut values = Vector6::zeros();
        for (index, (row, value)) in self.rows.iter().zip(demanded).enumerate() {
            matrix.set_row(index, &row.transpose());
            values[index] = *value;
        }
        let touched = || {
            let planes = self.planes.iter().zip(drifting).filter(|((gap, _), _)| *gap <= TOUCHED_MM);
            planes.map(|((_, row), drift)| (row, *drift))
        };
        for (row, drift) in touched() {
            matrix.set_row(5, &row.transpose());
            values[5] = -drift;
            let Some(rates) = matrix.lu().solve(&values) else { continue };
            if touched().all(|(other, drift)| other.dot(&rates) + drift >= -PIERCING) {
                return Some(rates);
            }
        }
        None
    }

    /// Whether the guided point touches more than one plane.
    pub(crate) fn is_at_crease(&self) -> bool {
        self.planes.iter().filter(|(gap, _)| *gap <= TOUCHED_MM).count() > 1
    }
}

impl Mechanism {
    /// What holds a solved pose.
    pub(crate) fn holding(
        &self,
        movement: Movement,
        station: Station,
        placed: &Placement,
    ) -> Result<Holding, Obstacle> {
        let planes = self.plane_rates(&placed.jaw)?;
        let demands = self.demands(movement, station, placed)?;
        Ok(Holding { rows: demands.map(|(row, _)| row), driven: demands.map(|(_, value)| value), planes })
    }

    /// How one condyle's reading changes as the jaw goes.
    pub(crate) fn condyle_rates(&self, jaw: &JawPose, side: Side) -> CondyleRates {
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

    fn demands(
        &self,
        movement: Movement,
        station: Station,
        placed: &Placement,
    ) -> Result<[(Row, f64); 5], Obstacle> {
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
                    let tilt = self.walls[side].tan_tilt();
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
            (o.drop - o.medial * orbit.tan_tilt(), orbiting_drop),
            (w.advance - w.medial * work.tan_retrusion(), ratio * advancing),
            (w.drop - w.medial * work.tan_surtrusion(), working_drop),
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
