//! A number with its unit, as a lesson measures it.

use crate::units::{Angle, Length, Unit};

/// A number that a lesson measures. Without a unit it is a count.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Value {
    /// The number.
    pub number: f64,
    /// Its unit; none for a count.
    pub unit: Option<Unit>,
    /// Whether it is a setting, or a number that was written down, and not measured: it is shown as it was set.
    pub is_set: bool,
}

/// Two lengths that differ by less, in millimetres, look alike in the picture (common practice, no source).
const LOOK_ALIKE_MM: f64 = 0.01;
/// The same of two angles, in degrees.
const LOOK_ALIKE_DEG: f64 = 0.05;

impl Value {
    /// A length that is measured.
    #[must_use]
    pub const fn length(length: Length) -> Self {
        Self { number: length.mm(), unit: Some(Unit::Millimetre), is_set: false }
    }

    /// An angle that is measured.
    #[must_use]
    pub const fn angle(angle: Angle) -> Self {
        Self { number: angle.degrees(), unit: Some(Unit::Degree), is_set: false }
    }

    /// So many.
    #[must_use]
    #[allow(clippy::cast_precision_loss)] // counts of cusps and settings
    pub const fn count(count: usize) -> Self {
        Self { number: count as f64, unit: None, is_set: false }
    }

    /// The difference below which nobody could tell two such numbers apart.
    #[must_use]
    pub const fn look_alike_within(unit: Option<Unit>) -> f64 {
        match unit {
            Some(Unit::Millimetre) => LOOK_ALIKE_MM,
            Some(Unit::Degree) => LOOK_ALIKE_DEG,
            None => 0.5,
        }
    }
}

/// A unit in words, a count among them.
pub(super) const fn unit_words(unit: Option<Unit>) -> &'static str {
    match unit {
        Some(unit) => unit.words(),
        None => "a count",
    }
}
