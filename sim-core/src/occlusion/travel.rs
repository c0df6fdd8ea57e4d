//! How far along a movement the jaw is, in one number.

use crate::excursion::{Movement, Station};
use crate::frame::Side;
use crate::instrument::Instrument;
use crate::units::Length;

/// The way from rest: first, where a lateral movement starts with one, the pure sideways move of
/// immediate translation, then the advance of the orbiting condyle (of both, in protrusion).
#[derive(Clone, Copy, Debug)]
pub(super) struct Travel {
    sideways_mm: f64,
    advance_mm: f64,
}

impl Travel {
    /// The way to an advance.
    pub(super) fn new(instrument: &Instrument, movement: Movement, advance: Length) -> Self {
        let immediate = |working: Side| instrument.guide(working.opposite()).immediate_translation.mm();
        let sideways_mm = match movement {
            Movement::Protrusive | Movement::Opening => 0.0,
            Movement::Lateral { working } => immediate(working),
            Movement::Lateroprotrusive { working, ratio } => (1.0 - ratio.get()) * immediate(working),
        };
        Self { sideways_mm, advance_mm: advance.mm() }
    }

    /// The whole way, in millimetres.
    pub(super) fn length_mm(&self) -> f64 {
        self.sideways_mm + self.advance_mm
    }

    /// Where the mechanism stands after a part of the way.
    pub(super) fn station(&self, travelled_mm: f64) -> Station {
        if travelled_mm < self.sideways_mm {
            Station::sideways(travelled_mm / self.sideways_mm)
        } else {
            Station::advanced(Length::from_mm(travelled_mm - self.sideways_mm))
        }
    }

    /// Even steps of no more than `step` over the way from one place to the end, both included.
    pub(super) fn stops(&self, from_mm: f64, step: Length) -> Vec<f64> {
        let way = (self.length_mm() - from_mm).max(0.0);
        let count = steps(way, step);
        #[allow(clippy::cast_precision_loss)] // at most MOST_STEPS
        let stop = |index: u32| from_mm + way * f64::from(index) / f64::from(count);
        (0..=count).map(stop).collect()
    }

    /// Where the advance begins, in millimetres of the way.
    pub(super) const fn sideways_mm(&self) -> f64 {
        self.sideways_mm
    }
}

/// Most steps of a way: a step finer than this makes no difference to what is told of it.
const MOST_STEPS: f64 = 10_000.0;

/// How many steps of no more than `step` make up a way; at least one.
#[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // between 1 and MOST_STEPS
pub(super) fn steps(way_mm: f64, step: Length) -> u32 {
    let wanted = (way_mm / step.mm()).ceil();
    if wanted.is_finite() { wanted.clamp(1.0, MOST_STEPS) as u32 } else { 1 }
}

#[cfg(test)]
mod tests {
    use super::{Travel, steps};
    use crate::excursion::{Movement, Station};
    use crate::frame::Side;
    use crate::instrument::Instrument;
    use crate::units::Length;

    #[test]
    fn a_lateral_way_starts_with_the_immediate_translation_of_the_orbiting_side() {
        let mut instrument = Instrument::zeroed();
        instrument.left_guide.immediate_translation = Length::from_mm(0.5);
        let right = Movement::Lateral { working: Side::Right };
        let travel = Travel::new(&instrument, right, Length::from_mm(3.0));
        assert!((travel.length_mm() - 3.5).abs() < 1e-12);
        assert_eq!(travel.station(0.0), Station::REST);
        assert_eq!(travel.station(0.25), Station::sideways(0.5));
        assert_eq!(travel.station(0.5), Station::advanced(Length::ZERO));
        assert_eq!(travel.station(2.5), Station::advanced(Length::from_mm(2.0)));
        let left = Movement::Lateral { working: Side::Left };
        assert!((Travel::new(&instrument, left, Length::from_mm(3.0)).length_mm() - 3.0).abs() < 1e-12);
    }

    #[test]
    fn steps_are_even_and_end_at_the_end() {
        let travel = Travel::new(&Instrument::zeroed(), Movement::Protrusive, Length::from_mm(3.0));
        let stops = travel.stops(0.5, Length::from_mm(0.7));
        assert_eq!(stops.len(), 5);
        assert!((stops[0] - 0.5).abs() < 1e-12 && (stops[4] - 3.0).abs() < 1e-12);
        assert!(stops.windows(2).all(|pair| (pair[1] - pair[0] - 0.625).abs() < 1e-12));
        assert_eq!(steps(1.0, Length::ZERO), 1);
        assert_eq!(steps(0.0, Length::from_mm(1.0)), 1);
    }
}
