//! A digitised tracing, checked.

use nalgebra::Vector2;

use super::{Leg, PlatePoint};
use crate::units::Length;

/// Longest that a leg is: beyond what a joint lets the jaw move (common practice, no source). A
/// longer one is in another unit.
const LONGEST_LEG_MM: f64 = 25.0;
/// Shortest leg that can be read; a shorter one is in another unit, or was not drawn.
const SHORTEST_LEG_MM: f64 = 1.0;
/// Distinct points that a leg must have: a parabola takes three, and its scatter as many again.
pub(super) const FEWEST_POINTS: usize = 6;

/// Most points of a leg: at a thousand a millimetre they tell nothing new.
pub(super) const MOST_POINTS: usize = 50_000;

/// A digitised tracing: the points of each leg, as they were recorded.
///
/// They may be out of order, doubled, noisy and retraced.
#[derive(Clone, Debug, PartialEq)]
pub struct Recorded {
    legs: [Vec<PlatePoint>; 3],
}

/// Why points are no tracing.
#[derive(Clone, Copy, Debug, PartialEq, thiserror::Error)]
pub enum RecordedError {
    /// No point at all.
    #[error("the {leg} has no point; each of the three legs needs {FEWEST_POINTS} or more")]
    Empty {
        /// The leg.
        leg: Leg,
    },
    /// Too few different points.
    #[error("the {leg} has {distinct} different {}; each of the three legs needs {FEWEST_POINTS} or more",
        if *distinct == 1 { "point" } else { "points" })]
    TooFew {
        /// The leg.
        leg: Leg,
        /// How many points differ from one another.
        distinct: usize,
    },
    /// More points than a tracing has.
    #[error("the {leg} has {given} points; up to {MOST_POINTS} are read, leave out every second one or more")]
    TooMany {
        /// The leg.
        leg: Leg,
        /// How many were given.
        given: usize,
    },
    /// A coordinate that is no finite number.
    #[error("point {} of the {leg} is ({forward_mm}, {left_mm}); finite numbers of millimetres are needed", index + 1)]
    NotANumber {
        /// The leg.
        leg: Leg,
        /// The point's place among those of its leg, from 0.
        index: usize,
        /// As given.
        forward_mm: f64,
        /// As given.
        left_mm: f64,
    },
    /// Longer than a jaw moves.
    #[error(
        "the {leg} is {length_mm:.1} mm long, more than the {LONGEST_LEG_MM} mm that a jaw may move; \
         millimetres are needed: are these pixels, or tenths of a millimetre?"
    )]
    TooLong {
        /// The leg.
        leg: Leg,
        /// Its extent.
        length_mm: f64,
    },
    /// Too short to be read.
    #[error(
        "the {leg} is {length_mm:.2} mm long, less than the {SHORTEST_LEG_MM} mm that can be read; \
         millimetres are needed: are these centimetres, or inches?"
    )]
    TooShort {
        /// The leg.
        leg: Leg,
        /// Its extent.
        length_mm: f64,
    },
}

impl Recorded {
    /// A tracing from the points of its legs, in the order in which they were recorded.
    ///
    /// # Errors
    /// [`RecordedError`] when a leg lacks points, has one that is no number, or is too long or too
    /// short to be in millimetres.
    pub fn new(
        protrusive: Vec<PlatePoint>,
        right_lateral: Vec<PlatePoint>,
        left_lateral: Vec<PlatePoint>,
    ) -> Result<Self, RecordedError> {
        let recorded = Self { legs: [protrusive, right_lateral, left_lateral] };
        Leg::ALL.into_iter().try_for_each(|leg| check(leg, recorded.leg(leg)))?;
        Ok(recorded)
    }

    /// The points of a leg as they were recorded.
    #[must_use]
    pub fn leg(&self, leg: Leg) -> &[PlatePoint] {
        &self.legs[leg.index()]
    }

    /// The points of a leg, each place once: a point given twice tells nothing new and would
    /// lessen the standard errors.
    pub(super) fn distinct(&self, leg: Leg) -> Vec<Vector2<f64>> {
        distinct(self.leg(leg))
    }
}

fn distinct(points: &[PlatePoint]) -> Vec<Vector2<f64>> {
    let mut seen = std::collections::HashSet::with_capacity(points.len());
    let vectors = points.iter().map(PlatePoint::vector);
    vectors.filter(|point| seen.insert([point.x + 0.0, point.y + 0.0].map(f64::to_bits))).collect()
}

fn check(leg: Leg, points: &[PlatePoint]) -> Result<(), RecordedError> {
    if points.is_empty() {
        return Err(RecordedError::Empty { leg });
    }
    if points.len() > MOST_POINTS {
        return Err(RecordedError::TooMany { leg, given: points.len() });
    }
    for (index, point) in points.iter().enumerate() {
        let (forward_mm, left_mm) = (point.forward.mm(), point.left.mm());
        if !(forward_mm.is_finite() && left_mm.is_finite()) {
            return Err(RecordedError::NotANumber { leg, index, forward_mm, left_mm });
        }
    }
    let distinct = distinct(points).len();
    if distinct < FEWEST_POINTS {
        return Err(RecordedError::TooFew { leg, distinct });
    }
    let length_mm = extent(points).mm();
    if length_mm > LONGEST_LEG_MM {
        return Err(RecordedError::TooLong { leg, length_mm });
    }
    if length_mm < SHORTEST_LEG_MM {
        return Err(RecordedError::TooShort { leg, length_mm });
    }
    Ok(())
}

/// Greatest extent of the points, from the one farthest from the first to the one farthest from
/// that; exact for points along a line.
fn extent(points: &[PlatePoint]) -> Length {
    let farthest = |from: &PlatePoint| {
        let distance = |point: &&PlatePoint| point.distance(from).mm();
        points.iter().max_by(|a, b| distance(a).total_cmp(&distance(b))).copied().unwrap_or(*from)
    };
    let end = points.first().map_or(PlatePoint::APEX, farthest);
    end.distance(&farthest(&end))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn leg(count: usize, spacing_mm: f64) -> Vec<PlatePoint> {
        (0..count).map(|step| PlatePoint::mm(-(step as f64) * spacing_mm, 0.0)).collect()
    }

    fn refusal(right_lateral: Vec<PlatePoint>) -> RecordedError {
        Recorded::new(leg(9, 1.0), right_lateral, leg(9, 1.0)).unwrap_err()
    }

    #[test]
    fn a_leg_without_points_or_with_too_few_different_ones_is_refused() {
        let which = Leg::RightLateral;
        assert_eq!(refusal(vec![]), RecordedError::Empty { leg: which });
        assert_eq!(refusal(leg(1, 1.0)), RecordedError::TooFew { leg: which, distinct: 1 });
        let five_twice = [leg(5, 1.0), leg(5, 1.0)].concat();
        assert_eq!(refusal(five_twice), RecordedError::TooFew { leg: which, distinct: 5 });
        assert!(refusal(leg(1, 1.0)).to_string().contains("1 different point;"));
    }

    #[test]
    fn more_points_than_a_tracing_has_are_refused() {
        let told = refusal(leg(MOST_POINTS + 1, 1e-4)).to_string();
        assert!(told.contains("has 50001 points; up to 50000"), "{told}");
    }

    #[test]
    fn a_coordinate_that_is_no_number_is_named() {
        let mut points = leg(9, 1.0);
        points[3].left = Length::from_mm(f64::NAN);
        let told = refusal(points).to_string();
        assert!(told.contains("point 4 of the right lateral leg is (-3, NaN)"), "{told}");
    }

    #[test]
    fn another_unit_is_noticed_by_the_length() {
        assert!(refusal(leg(9, 20.0)).to_string().contains("160.0 mm long"), "pixels");
        assert!(refusal(leg(9, 0.1)).to_string().contains("centimetres"), "centimetres");
    }
}
