//! An axis: numbers to places on the page, and round numbers to write along it.

use crate::figures::letters::{self, DIGIT};
use crate::figures::scale::round_step;
use words::number::decimals;

/// From numbers to places in a straight line.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Axis {
    low: f64,
    high: f64,
    from: f64,
    to: f64,
    /// Distance on the page that a number along it needs at least.
    apart: f64,
    /// Whether numbers stand beside each other along it, and not above each other.
    across: bool,
}

/// Size of the numbers along an axis.
pub(super) const NUMBER: f64 = 9.5;
/// Between two numbers beside each other.
const BETWEEN: f64 = 8.0;

/// Part of the range left free at each end.
const ROOM: f64 = 0.04;

impl Axis {
    /// Over all of these numbers, with a little room, from one place to another; numbers along it at least
    /// `apart` from each other.
    pub(super) fn over(numbers: impl IntoIterator<Item = f64>, places: (f64, f64), apart: f64) -> Self {
        let finite = numbers.into_iter().filter(|number| number.is_finite());
        let ends = (f64::INFINITY, f64::NEG_INFINITY);
        let (low, high) = finite.fold(ends, |(low, high), number| (low.min(number), high.max(number)));
        let (low, high) = if low <= high { (low, high) } else { (0.0, 1.0) };
        // Numbers that are all equal, but for what rounding leaves.
        let half = low.abs().max(high.abs()).max(1.0);
        let (low, high) =
            if high - low > half * 1e-9 { (low, high) } else { (low - half / 2.0, high + half / 2.0) };
        let room = (high - low) * ROOM;
        Self { low: low - room, high: high + room, from: places.0, to: places.1, apart, across: false }
    }

    /// The same for numbers that stand beside each other along it.
    pub(super) fn across(self) -> Self {
        Self { across: true, ..self }
    }

    /// The same without room at an end that is exactly zero: bars stand on it.
    pub(super) fn standing_on_zero(self) -> Self {
        let room = (self.high - self.low) * ROOM / (1.0 + 2.0 * ROOM);
        let near = |end: f64| end.abs() < room * 1.001;
        Self {
            low: if near(self.low) { 0.0 } else { self.low },
            high: if near(self.high) { 0.0 } else { self.high },
            ..self
        }
    }

    /// The same from the least number to the greatest and no farther.
    pub(super) fn without_room(self) -> Self {
        let room = (self.high - self.low) * ROOM / (1.0 + 2.0 * ROOM);
        Self { low: self.low + room, high: self.high - room, ..self }
    }

    /// Place of a number.
    pub(super) fn at(&self, number: f64) -> f64 {
        self.from + (number - self.low) / (self.high - self.low) * (self.to - self.from)
    }

    pub(super) fn ends(&self) -> (f64, f64) {
        (self.low, self.high)
    }

    /// Round numbers along it, as they are written: as many as find room.
    pub(super) fn ticks(&self) -> Vec<(f64, String)> {
        let length = (self.to - self.from).abs();
        let mut most = (length / self.apart).floor().clamp(1.0, 8.0);
        loop {
            let step = round_step((self.high - self.low) / most);
            let places = (-step.log10().floor()).clamp(0.0, 9.0) as usize;
            let (first, last) = ((self.low / step).ceil() as i64, (self.high / step).floor() as i64);
            let values = (first..=last).map(|tick| tick as f64 * step);
            let ticks: Vec<(f64, String)> = values.map(|value| (value, decimals(value, places))).collect();
            let apart = length * step / (self.high - self.low);
            if !self.across || most <= 1.0 || apart >= widest(&ticks) + BETWEEN {
                return ticks;
            }
            most -= 1.0;
        }
    }
}

/// Width of the widest number.
pub(super) fn widest(ticks: &[(f64, String)]) -> f64 {
    ticks.iter().map(|(_, words)| width(words)).fold(0.0, f64::max)
}

/// Width of a number along an axis.
pub(super) fn width(words: &str) -> f64 {
    letters::width(words, NUMBER, DIGIT)
}

/// With three digits that count.
pub(super) fn three_digits(value: f64) -> String {
    if value == 0.0 || !value.is_finite() {
        return "0".to_owned();
    }
    let places = (2.0 - value.abs().log10().floor()).clamp(0.0, 6.0) as usize;
    decimals(value, places)
}

/// A level as somebody gave it: no digits that say nothing.
pub(super) fn as_given(value: f64) -> String {
    let rounded = three_digits(value);
    if rounded.contains('.') {
        rounded.trim_end_matches('0').trim_end_matches('.').to_owned()
    } else {
        rounded
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn words(axis: &Axis) -> Vec<String> {
        axis.ticks().into_iter().map(|(_, words)| words).collect()
    }

    #[test]
    fn numbers_along_an_axis_are_round_and_as_many_as_there_is_room_for() {
        let axis = Axis::over([10.0, 60.0], (0.0, 200.0), 30.0);
        assert_eq!(words(&axis), ["10", "20", "30", "40", "50", "60"]);
        let axis = Axis::over([-0.12, 0.31], (200.0, 0.0), 60.0);
        assert_eq!(words(&axis), ["0.0", "0.2"]);
        assert!(axis.at(0.0) > axis.at(0.2), "up the page");
    }

    #[test]
    fn equal_numbers_and_none_have_an_axis_too() {
        for numbers in [vec![], vec![f64::NAN], vec![3.0, 3.0], vec![0.0], vec![-1e6; 2]] {
            let axis = Axis::over(numbers.clone(), (0.0, 100.0), 30.0);
            let (low, high) = axis.ends();
            assert!(low < high && axis.at(low).is_finite(), "{numbers:?}");
            assert!(!axis.ticks().is_empty(), "{numbers:?}");
        }
    }

    #[test]
    fn long_numbers_beside_each_other_are_fewer() {
        let axis = Axis::over([30.0, 30.001], (0.0, 160.0), 20.0);
        let (up, across) = (axis.ticks(), axis.across().ticks());
        assert!(across.len() < up.len() && !across.is_empty(), "{across:?}");
    }

    #[test]
    fn bars_stand_on_zero() {
        assert_eq!(Axis::over([0.0, 5.0], (0.0, 1.0), 0.1).standing_on_zero().ends().0, 0.0);
        assert!(Axis::over([-5.0, 5.0], (0.0, 1.0), 0.1).standing_on_zero().ends().0 < -5.0);
    }

    #[test]
    fn digits_that_count_are_three() {
        for (value, is) in [(1234.5, "1234"), (12.345, "12.3"), (-0.012_345, "−0.0123"), (0.0, "0")] {
            assert_eq!(three_digits(value), is);
        }
        assert_eq!([20.0, 0.5, -100.0, 0.0].map(as_given), ["20", "0.5", "−100", "0"]);
    }
}
