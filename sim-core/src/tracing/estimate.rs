//! Values with their standard errors.

use nalgebra::{Matrix2, Vector2};

use crate::units::{Angle, Length};

/// A value and the standard error that the scatter of the points leaves it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Estimate<Q> {
    /// The value.
    pub value: Q,
    /// Its standard error, in the same unit; never negative.
    pub standard_error: Q,
}

impl Estimate<Angle> {
    pub(super) fn radians(value: f64, variance: f64) -> Self {
        Self {
            value: Angle::from_radians(value),
            standard_error: Angle::from_radians(variance.max(0.0).sqrt()),
        }
    }
}

impl Estimate<Length> {
    pub(super) fn mm(value: f64, variance: f64) -> Self {
        Self { value: Length::from_mm(value), standard_error: Length::from_mm(variance.max(0.0).sqrt()) }
    }
}

/// Uncertainty of a place on the plate: the axes of the ellipse of one standard deviation.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Ellipse {
    /// Standard deviation along the greater axis.
    pub greater: Length,
    /// Standard deviation along the lesser axis.
    pub lesser: Length,
    /// Direction of the greater axis, from forward toward the left, −90° to 90°.
    pub direction: Angle,
}

impl Ellipse {
    /// By what factor the ellipse of one standard deviation grows to hold 95 % of a bivariate
    /// normal distribution: √(−2 ln 0.05).
    pub const TO_95_PERCENT: f64 = 2.447_746_830_680_816;

    /// Principal axes of a covariance in mm².
    pub(super) fn of(covariance: &Matrix2<f64>) -> Self {
        let axes = covariance.symmetric_eigen();
        let (greater, lesser) = if axes.eigenvalues[0] >= axes.eigenvalues[1] { (0, 1) } else { (1, 0) };
        let sd = |axis: usize| Length::from_mm(axes.eigenvalues[axis].max(0.0).sqrt());
        let mut along: Vector2<f64> = axes.eigenvectors.column(greater).into();
        if along.x < 0.0 {
            along = -along;
        }
        Self {
            greater: sd(greater),
            lesser: sd(lesser),
            direction: Angle::from_radians(along.y.atan2(along.x)),
        }
    }
}
