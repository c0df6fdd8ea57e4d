//! An estimate and its interval.

use super::student::student_quantile;

/// Part of the samples whose interval holds the true value.
pub const CONFIDENCE: f64 = 0.95;

/// An estimate and the interval of 95 % about it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Estimate {
    /// The estimate.
    pub value: f64,
    /// Lower end of the interval; not a number where there is none.
    pub low: f64,
    /// Upper end of the interval; not a number where there is none.
    pub high: f64,
}

impl Estimate {
    /// Without an interval.
    #[must_use]
    pub const fn bare(value: f64) -> Self {
        Self { value, low: f64::NAN, high: f64::NAN }
    }

    /// Student's interval about a value with this standard error.
    #[must_use]
    pub fn student(value: f64, error: f64, degrees: f64) -> Self {
        let half = student_quantile(f64::midpoint(CONFIDENCE, 1.0), degrees) * error;
        Self { value, low: value - half, high: value + half }
    }

    /// Of what is never below zero, as its interval's lower end then is not.
    #[must_use]
    pub(super) fn not_below_zero(self) -> Self {
        Self { low: if self.low < 0.0 { 0.0 } else { self.low }, ..self }
    }

    /// Half the length of the interval; not a number where there is none.
    #[must_use]
    pub fn half_width(&self) -> f64 {
        (self.high - self.low) / 2.0
    }

    /// Whether there is an interval.
    #[must_use]
    pub fn has_interval(&self) -> bool {
        self.half_width().is_finite()
    }
}
