//! A number's distribution over the draws.

use super::DoubtSource;

/// The quantiles that are given: the middle half, and all but one in twenty.
pub const QUANTILES: [f64; 5] = [0.025, 0.25, 0.5, 0.75, 0.975];

/// Distribution of one number, in its own unit.
#[derive(Clone, Debug, PartialEq)]
pub struct Spread {
    /// The number as the case gives it, undisturbed.
    pub value: f64,
    /// Mean of the draws.
    pub mean: f64,
    /// Standard deviation of the draws.
    pub sd: f64,
    /// At [`QUANTILES`].
    pub quantiles: [f64; QUANTILES.len()],
    /// Standard deviation with each of [`DoubtSource::ALL`] alone.
    pub alone_sd: [f64; DoubtSource::ALL.len()],
    /// Each source's variance alone as a part of the variance of all together. They add to one as
    /// far as errors add, which is while they are small; all zero where nothing varies.
    pub shares: [f64; DoubtSource::ALL.len()],
}

/// What is this small beside the number is rounding, not spread.
const ROUNDING: f64 = 1e-12;

impl Spread {
    pub(super) fn of(value: f64, mut drawn: Vec<f64>, alone: [f64; DoubtSource::ALL.len()]) -> Self {
        let mut running = Running::default();
        drawn.iter().for_each(|number| running.push(*number));
        drawn.sort_by(f64::total_cmp);
        let variance = running.variance();
        let varies = variance.sqrt() > ROUNDING * value.abs().max(1.0);
        Self {
            value,
            mean: running.mean,
            sd: if varies { variance.sqrt() } else { 0.0 },
            quantiles: QUANTILES.map(|part| quantile(&drawn, part)),
            alone_sd: alone.map(f64::sqrt),
            shares: alone.map(|own| if varies { own / variance } else { 0.0 }),
        }
    }

    /// The source with the largest share; `None` where nothing varies.
    #[must_use]
    pub fn dominant(&self) -> Option<DoubtSource> {
        let largest =
            DoubtSource::ALL.into_iter().zip(self.shares).max_by(|one, other| one.1.total_cmp(&other.1));
        largest.filter(|(_, share)| *share > 0.0).map(|(source, _)| source)
    }
}

/// A quantile of sorted numbers, between two of them in proportion; NaN of none.
#[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // 0 to the length
pub(super) fn quantile(sorted: &[f64], part: f64) -> f64 {
    let Some(last) = sorted.len().checked_sub(1) else { return f64::NAN };
    let at = part * last as f64;
    let below = (at.floor() as usize).min(last);
    let above = (below + 1).min(last);
    sorted[below] + (sorted[above] - sorted[below]) * (at - below as f64)
}

/// Mean and variance as numbers come in, in flat memory (Welford BP, Technometrics 1962;4:419–420,
/// from memory).
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Running {
    count: f64,
    mean: f64,
    squares: f64,
}

impl Running {
    pub(super) fn push(&mut self, number: f64) {
        self.count += 1.0;
        let off = number - self.mean;
        self.mean += off / self.count;
        self.squares += off * (number - self.mean);
    }

    pub(super) fn variance(&self) -> f64 {
        if self.count < 2.0 { 0.0 } else { self.squares / (self.count - 1.0) }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn quantiles_lie_between_the_numbers_they_part() {
        let sorted = [1.0, 2.0, 4.0];
        assert_eq!(
            [0.0, 0.25, 0.5, 0.75, 1.0].map(|part| quantile(&sorted, part)),
            [1.0, 1.5, 2.0, 3.0, 4.0]
        );
        assert_eq!(quantile(&[7.0], 0.975), 7.0);
        assert!(quantile(&[], 0.5).is_nan());
    }

    #[test]
    fn running_mean_and_variance_are_those_of_the_whole() {
        let mut running = Running::default();
        [1.0, 2.0, 4.0, 9.0].iter().for_each(|number| running.push(*number));
        assert!((running.mean - 4.0).abs() < 1e-15);
        assert!((running.variance() - 38.0 / 3.0).abs() < 1e-14);
    }
}
