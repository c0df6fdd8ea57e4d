//! One tracing laid over another.

use nalgebra::Vector2;

use super::{Findings, Leg, PlatePoint, Tracing};
use crate::units::{Angle, Length};

/// Farthest that one tracing is turned to lie on the other.
const MOST_TURN_DEG: f64 = 20.0;
/// Steps of the first, coarse search.
const COARSE_STEPS: i32 = 80;
/// Points of a leg by which the turn is sought; more would not move it.
const SOUGHT_BY: usize = 400;
/// Halvings of the search that follows; ends far below a hundredth of a degree.
const FINE_ROUNDS: usize = 40;

/// How far points lie from a line.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Apart {
    /// Root mean square of the distances.
    pub rms: Length,
    /// The greatest.
    pub greatest: Length,
    /// Points measured.
    pub points: usize,
}

/// A recorded tracing and a drawn one, apex on apex.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Overlay {
    /// Per leg, in the order of [`Leg::ALL`]; absent where no recorded point lies along the drawn
    /// leg.
    pub legs: [Option<Apart>; 3],
    /// All legs together; absent where no point was measured.
    pub whole: Option<Apart>,
    /// By how much the drawn tracing is turned about the apex, from forward to the left, to lie
    /// nearest to the recorded one: a plate set askew, or sides that differ.
    pub turn: Angle,
    /// What then is left.
    pub turned: Option<Apart>,
}

/// Lays the tracing that an instrument draws over a recorded one, apex on apex, axes parallel, and
/// measures from every recorded point (but those set aside) to the nearest of the drawn leg.
/// Points beyond the drawn leg's end are not measured.
///
/// The distances hold the scatter of the recorded points too.
#[must_use]
pub fn lay_over(drawn: &Tracing, findings: &Findings) -> Overlay {
    let apex = findings.apex.at.vector();
    let recorded = Leg::ALL.map(|leg| {
        findings.leg(leg).line.iter().map(|point| point.vector() - apex).collect::<Vec<Vector2<f64>>>()
    });
    let lines = Leg::ALL.map(|leg| {
        let points = drawn.leg(leg);
        let start = points.first().map_or(Vector2::zeros(), PlatePoint::vector);
        points.iter().map(|point| point.vector() - start).collect::<Vec<Vector2<f64>>>()
    });
    let distances = |turn: f64, most: usize| {
        // The recorded points are turned the other way.
        let (sin, cos) = (-turn).sin_cos();
        let turned =
            |point: &Vector2<f64>| Vector2::new(cos * point.x - sin * point.y, sin * point.x + cos * point.y);
        [0, 1, 2].map(|leg| {
            recorded[leg]
                .iter()
                .step_by(recorded[leg].len().div_ceil(most).max(1))
                .filter_map(|point| distance(&turned(point), &lines[leg]))
                .collect::<Vec<f64>>()
        })
    };
    let rms = |turn: f64| {
        Apart::of(distances(turn, SOUGHT_BY).iter().flatten().copied())
            .map_or(f64::INFINITY, |apart| apart.rms.mm())
    };
    let turn = least(rms);
    let laid = distances(0.0, usize::MAX);
    Overlay {
        legs: laid.each_ref().map(|leg| Apart::of(leg.iter().copied())),
        whole: Apart::of(laid.iter().flatten().copied()),
        turn: Angle::from_radians(turn),
        turned: Apart::of(distances(turn, usize::MAX).iter().flatten().copied()),
    }
}

impl Apart {
    fn of(distances: impl Iterator<Item = f64>) -> Option<Self> {
        let (mut sum, mut greatest, mut points) = (0.0, 0.0_f64, 0_usize);
        for distance in distances {
            sum += distance * distance;
            greatest = greatest.max(distance);
            points += 1;
        }
        (points > 0).then(|| Self {
            rms: Length::from_mm((sum / points as f64).sqrt()),
            greatest: Length::from_mm(greatest),
            points,
        })
    }
}

/// Distance of a point from a line of points; nothing where it lies beyond the line's far end, or
/// there is no line.
fn distance(point: &Vector2<f64>, line: &[Vector2<f64>]) -> Option<f64> {
    let last = line.len().checked_sub(2)?;
    let mut nearest = (f64::INFINITY, false);
    for (index, ends) in line.windows(2).enumerate() {
        let way = ends[1] - ends[0];
        let length = way.norm_squared();
        let part = if length > 0.0 { way.dot(&(point - ends[0])) / length } else { 0.0 };
        let off = (point - (ends[0] + way * part.clamp(0.0, 1.0))).norm();
        if off < nearest.0 {
            nearest = (off, index == last && part > 1.0);
        }
    }
    (!nearest.1).then_some(nearest.0)
}

/// The angle in radians at which a function with one low place is least.
fn least(function: impl Fn(f64) -> f64) -> f64 {
    let step = MOST_TURN_DEG.to_radians() / f64::from(COARSE_STEPS);
    let coarse = (-COARSE_STEPS..=COARSE_STEPS).map(|index| f64::from(index) * step);
    let mut best = coarse.fold((f64::INFINITY, 0.0), |best: (f64, f64), angle| {
        let value = function(angle);
        if value < best.0 { (value, angle) } else { best }
    });
    let mut width = step;
    for _ in 0..FINE_ROUNDS {
        width /= 2.0;
        for angle in [best.1 - width, best.1 + width] {
            let value = function(angle);
            if value < best.0 {
                best = (value, angle);
            }
        }
    }
    best.1
}
