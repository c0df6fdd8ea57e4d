//! The tracing that is dealt beside a case.

use nalgebra::Vector2;
use rand_chacha::rand_core::Rng;

use super::dice::Dice;
use super::subject::{PatientError, rounded};
use crate::excursion::{Mechanism, SampleCount};
use crate::frame::{Side, UpperPoint};
use crate::instrument::Instrument;
use crate::tracing::{Leg, PlatePoint, Recorded, draw};
use crate::units::Length;

/// How far the condyles go while it is drawn, in millimetres.
const REACH_MM: f64 = 9.0;
/// Points of a leg.
const POINTS: i64 = 45;
/// Spread of the points of a leg about it, in millimetres.
const SPREAD_MM: f64 = 0.04;
/// How far back, and to one side, a second tracing lies, in millimetres.
const SECOND_MM: [(f64, f64); 2] = [(0.6, 0.9), (0.4, 0.6)];

/// A tracing of the jaw, with another beside it where it was made twice.
///
/// It is drawn without the immediate translation, which would blunt the apex: whether an apex is blunt
/// is not asked here.
pub(super) fn drawn<R: Rng>(
    dice: &mut Dice<R>,
    jaw: &Instrument,
    twice: bool,
) -> Result<Recorded, PatientError> {
    let mut jaw = jaw.clone();
    for side in Side::BOTH {
        jaw.guide_mut(side).immediate_translation = Length::ZERO;
    }
    let edge = jaw.incisal_point.coords();
    let stylus = UpperPoint::mm(edge.x - dice.within((25.0, 35.0)), 0.0, edge.z + dice.within((3.0, 8.0)));
    let drawn = draw(&Mechanism::new(&jaw), &stylus, Length::from_mm(REACH_MM), SampleCount::new(POINTS)?)?;
    let origin = Vector2::new(dice.within((10.0, 25.0)), dice.within((10.0, 25.0)));
    let second = SECOND_MM.map(|range| dice.within(range));
    let second = Vector2::new(-second[0], if dice.coin() { second[1] } else { -second[1] });
    let starts: &[Vector2<f64>] = if twice { &[origin, origin + second] } else { &[origin] };
    let mut leg = |leg: Leg| {
        let mut points = Vec::new();
        for start in starts {
            for at in drawn.leg(leg) {
                let spread = Vector2::new(dice.normal(), dice.normal()) * SPREAD_MM;
                let at = Vector2::new(at.forward.mm(), at.left.mm()) + start + spread;
                points.push(PlatePoint {
                    forward: Length::from_mm(rounded(at.x)),
                    left: Length::from_mm(rounded(at.y)),
                });
            }
        }
        points
    };
    let legs = [leg(Leg::Protrusive), leg(Leg::RightLateral), leg(Leg::LeftLateral)];
    let [protrusive, right, left] = legs;
    Ok(Recorded::new(protrusive, right, left)?)
}
