//! The standard normal distribution: its cumulated probability and its quantiles.

use std::f64::consts::SQRT_2;

/// Probability of a standard normal number below z.
///
/// By the complementary error function, so that both tails keep their digits.
#[must_use]
pub fn normal_probability(z: f64) -> f64 {
    0.5 * libm::erfc(-z / SQRT_2)
}

/// The z below which a standard normal number lies with this probability; infinite at 0 and 1.
#[must_use]
pub fn normal_quantile(probability: f64) -> f64 {
    -SQRT_2 * statrs::function::erf::erfc_inv(2.0 * probability)
}
