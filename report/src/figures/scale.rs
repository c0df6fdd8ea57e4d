//! Round numbers to write along a scale.

/// The least of 1, 2, 5, 10, … and their tenths that is no less than a number.
pub(super) fn round_step(least: f64) -> f64 {
    let ten = 10.0_f64.powf(least.log10().floor());
    // Rounding may leave a number a hair above the round one that it stands for.
    let fits = |step: &f64| *step >= least * (1.0 - 1e-9);
    [1.0, 2.0, 5.0].into_iter().map(|digit| digit * ten).find(fits).unwrap_or(10.0 * ten)
}

/// A round step that cuts a range into some four parts.
pub(super) fn quarter_step(range: f64) -> f64 {
    round_step((range / 4.0).max(1e-3))
}

#[cfg(test)]
mod tests {
    use super::quarter_step;

    #[test]
    fn steps_are_round() {
        assert!((quarter_step(6.0) - 2.0).abs() < 1e-12);
        assert!((quarter_step(4.4) - 2.0).abs() < 1e-12);
        assert!((quarter_step(1.7) - 0.5).abs() < 1e-12);
    }
}
