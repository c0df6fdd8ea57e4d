//! Even steps along a movement's way.

use crate::excursion::Travel;
use crate::units::Length;

/// Even steps of no more than `step` over the way from one place to the end, both included.
pub(super) fn stops(travel: &Travel, from: Length, step: Length) -> Vec<Length> {
    let way = (travel.length() - from).max(Length::ZERO);
    let count = steps(way, step);
    (0..=count).map(|index| from + way * f64::from(index) / f64::from(count)).collect()
}

/// Most steps of a way: a step finer than this makes no difference to what is told of it.
const MOST_STEPS: f64 = 10_000.0;

/// How many steps of no more than `step` make up a way; at least one.
#[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // between 1 and MOST_STEPS
pub(super) fn steps(way: Length, step: Length) -> u32 {
    let wanted = (way / step).ceil();
    if wanted.is_finite() { wanted.clamp(1.0, MOST_STEPS) as u32 } else { 1 }
}

#[cfg(test)]
mod tests {
    use super::{steps, stops};
    use crate::excursion::{Mechanism, Movement};
    use crate::instrument::Instrument;
    use crate::units::Length;

    #[test]
    fn steps_are_even_and_end_at_the_end() {
        let mechanism = Mechanism::new(&Instrument::zeroed());
        let travel = mechanism.travel(Movement::Protrusive, Length::from_mm(3.0));
        let stops = stops(&travel, Length::from_mm(0.5), Length::from_mm(0.7));
        assert_eq!(stops.len(), 5);
        assert!((stops[0].mm() - 0.5).abs() < 1e-12 && (stops[4].mm() - 3.0).abs() < 1e-12);
        assert!(stops.windows(2).all(|pair| ((pair[1] - pair[0]).mm() - 0.625).abs() < 1e-12));
        assert_eq!(steps(Length::from_mm(1.0), Length::ZERO), 1);
        assert_eq!(steps(Length::ZERO, Length::from_mm(1.0)), 1);
    }
}
