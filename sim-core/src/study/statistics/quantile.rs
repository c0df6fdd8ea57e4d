//! Quantiles.

/// Numbers in rising order, those that are none left out.
#[must_use]
pub fn sorted(numbers: impl IntoIterator<Item = f64>) -> Vec<f64> {
    let mut sorted: Vec<f64> = numbers.into_iter().filter(|number| !number.is_nan()).collect();
    sorted.sort_by(f64::total_cmp);
    sorted
}

/// A quantile of numbers in rising order, between two of them in proportion (the definition that
/// NumPy has as its default); not a number of none.
#[must_use]
#[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, clippy::cast_precision_loss)] // 0 to the length
pub fn quantile(sorted: &[f64], part: f64) -> f64 {
    let Some(last) = sorted.len().checked_sub(1) else { return f64::NAN };
    let at = part * last as f64;
    let below = (at.floor() as usize).min(last);
    let above = (below + 1).min(last);
    sorted[below] + (sorted[above] - sorted[below]) * (at - below as f64)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn quantiles_lie_between_the_numbers_they_part() {
        let numbers = sorted([4.0, f64::NAN, 1.0, 2.0]);
        assert_eq!(
            [0.0, 0.25, 0.5, 0.75, 1.0].map(|part| quantile(&numbers, part)),
            [1.0, 1.5, 2.0, 3.0, 4.0]
        );
        assert_eq!(quantile(&[7.0], 0.975), 7.0);
        assert!(quantile(&[], 0.5).is_nan());
    }
}
