//! Quantiles of Student's t distribution.

use statrs::function::beta::beta_reg;

use crate::study::normal_quantile;

/// From here on two terms of the expansion in 1/ν about the normal quantile leave nothing of twelve digits.
const MANY_DEGREES: f64 = 1e6;
/// Halvings after which no place of an f64 is left to be halved.
const MOST_HALVINGS: u32 = 1100;

/// The t below which a number of Student's distribution with these degrees of freedom lies with this
/// probability; not a number without a degree of freedom.
///
/// By halving: P(|T| > t) = I(ν/(ν + t²); ν/2, 1/2), the regularised incomplete beta function, whose inverse
/// in the crate does not end for every ν.
#[must_use]
pub fn student_quantile(probability: f64, degrees: f64) -> f64 {
    if !(degrees > 0.0 && probability > 0.0 && probability < 1.0) {
        return f64::NAN;
    }
    if degrees >= MANY_DEGREES {
        let z = normal_quantile(probability);
        return z + (z.powi(3) + z) / (4.0 * degrees);
    }
    let tail = probability.min(1.0 - probability);
    let tail_beyond = |t: f64| beta_reg(degrees / 2.0, 0.5, degrees / (degrees + t * t)) / 2.0;
    let (mut low, mut high) = (0.0, 1.0);
    while tail_beyond(high) > tail {
        (low, high) = (high, 2.0 * high);
    }
    for _ in 0..MOST_HALVINGS {
        let middle = f64::midpoint(low, high);
        if middle <= low || middle >= high {
            break;
        }
        if tail_beyond(middle) > tail { low = middle } else { high = middle }
    }
    if probability < 0.5 { -high } else { high }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Printed tables of the distribution, to the digits that they have: 12.706, 2.365, 2.131, 2.093 and
    /// 1.984 for 1, 7, 15, 19 and 99 degrees (from memory), and the normal 1.960 in the end.
    #[test]
    fn quantiles_are_those_of_printed_tables() {
        for (degrees, printed) in
            [(1.0, 12.706), (7.0, 2.365), (15.0, 2.131), (19.0, 2.093), (99.0, 1.984), (1e7, 1.960)]
        {
            let found = student_quantile(0.975, degrees);
            assert!((found - printed).abs() < 5.1e-4, "{degrees}: {found}, not {printed}");
            assert!((student_quantile(0.025, degrees) + found).abs() < 1e-10 * found, "{degrees}");
        }
        assert!(student_quantile(0.5, 4.0).abs() < 1e-7);
        assert!(student_quantile(0.975, 0.0).is_nan());
    }

    /// In closed form for one and two degrees: tan(π(p − 1/2)) and (2p − 1)·√(2/(4p(1 − p))).
    #[test]
    fn of_one_and_two_degrees_they_have_a_closed_form() {
        for p in [0.6, 0.9, 0.975, 0.999_f64] {
            let one = (std::f64::consts::PI * (p - 0.5)).tan();
            let two = (2.0 * p - 1.0) * (2.0 / (4.0 * p * (1.0 - p))).sqrt();
            for (degrees, expected) in [(1.0, one), (2.0, two)] {
                let found = student_quantile(p, degrees);
                assert!((found / expected - 1.0).abs() < 1e-9, "{p}: {found}, not {expected}");
            }
        }
    }

    /// The quantile's probability is the one asked for, whatever the degrees: the search ends for all of them,
    /// and passes over into the expansion without a step.
    #[test]
    fn every_number_of_degrees_has_its_quantile() {
        let mut last = f64::INFINITY;
        for degrees in (1..2000).map(f64::from).chain([999_999.0, 1e6, 1e9, f64::from(u32::MAX)]) {
            let t = student_quantile(0.975, degrees);
            assert!(t < last + 1e-12 && t > 1.959, "{degrees}: {t}, after {last}");
            last = t;
        }
        let step = student_quantile(0.975, 1e6 - 1.0) - student_quantile(0.975, 1e6);
        assert!(step.abs() < 1e-9, "{step}");
    }
}
