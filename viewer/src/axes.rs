//! The axes of the plot. They are held while a setting changes, so that a steeper guidance looks steeper; they
//! grow where a curve would leave them, and are fitted anew for another excursion, another file, or by hand.

use serde::Serialize;

/// What the curves need, or what the axes show: millimetres upward, and along in the excursion's own unit.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Extent {
    /// Lowest value; never above zero.
    pub low: f64,
    /// Highest value; never below zero.
    pub high: f64,
    /// How far along.
    pub end: f64,
}

/// Ends of axes, in units of a power of ten.
const STEPS: [f64; 9] = [1.0, 1.5, 2.0, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0];
/// How much higher than the curves the axes are made at first: room for a steeper guidance.
const HEADROOM: f64 = 1.4;
/// The least part of the upward axis that the downward one has: room for the word there.
const LEAST_PART: f64 = 0.15;
/// The least reach of an axis upward, and downward, in millimetres.
const LEAST: (f64, f64) = (0.5, 0.2);

impl Extent {
    /// An empty one, for an excursion that goes so far.
    #[must_use]
    pub const fn none(end: f64) -> Self {
        Self { low: 0.0, high: 0.0, end }
    }

    /// Takes in a value.
    pub const fn take_in(&mut self, mm: f64) {
        self.low = self.low.min(mm);
        self.high = self.high.max(mm);
    }

    /// Axes that show all of it, with room above.
    #[must_use]
    pub fn fitted(self) -> Self {
        let high = round_up((self.high * HEADROOM).max(LEAST.0));
        let low = -round_up((-self.low).max(LEAST.1).max(high * LEAST_PART));
        Self { low, high, end: self.end.max(0.1) }
    }

    /// These axes, grown where the curves leave them.
    #[must_use]
    pub fn grown_to(self, needed: Self) -> Self {
        let low = if needed.low < self.low { -round_up(-needed.low) } else { self.low };
        let high = if needed.high > self.high { round_up(needed.high) } else { self.high };
        Self { low, high, end: self.end.max(needed.end) }
    }
}

/// The next of the round numbers that is no smaller.
fn round_up(mm: f64) -> f64 {
    let power = 10_f64.powf(mm.abs().max(1e-6).log10().floor());
    let steps = STEPS.into_iter().map(|step| step * power);
    steps.into_iter().find(|step| *step >= mm - 1e-9).unwrap_or(mm)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn axes_end_at_round_numbers_with_room_for_a_steeper_guidance() {
        let axes = Extent { low: -0.03, high: 2.8, end: 6.0 }.fitted();
        let is_near =
            |axes: Extent, low: f64, high: f64| (axes.low - low).abs() + (axes.high - high).abs() < 1e-9;
        assert!(is_near(axes, -0.6, 4.0), "{axes:?}");
        // Fifty degrees instead of thirty: the same axes, a curve that is steeper on them.
        assert_eq!(axes.grown_to(Extent { low: 0.0, high: 3.9, end: 6.0 }), axes);
        let grown = axes.grown_to(Extent { low: -0.7, high: 4.4, end: 6.0 });
        assert!(is_near(grown, -0.8, 5.0), "{grown:?}");
    }

    proptest! {
        #[test]
        fn axes_show_whatever_is_needed_and_never_shrink(
            low in -80.0..0.0_f64, high in 0.0..80.0_f64, more_low in -80.0..0.0_f64, more_high in 0.0..80.0_f64,
        ) {
            let axes = Extent { low, high, end: 6.0 }.fitted();
            prop_assert!(axes.low <= low && axes.high >= high);
            let grown = axes.grown_to(Extent { low: more_low, high: more_high, end: 7.0 });
            prop_assert!(grown.low <= more_low.min(axes.low) + 1e-9 && grown.high >= more_high.max(axes.high) - 1e-9);
        }
    }
}
