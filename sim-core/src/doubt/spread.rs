//! A number's distribution over the draws.

use super::DoubtSource;
use crate::study::statistics::{Moments, quantile, sorted};

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
    pub(super) fn of(value: f64, drawn: Vec<f64>, alone: [f64; DoubtSource::ALL.len()]) -> Self {
        let moments = Moments::of(drawn.iter().copied());
        let drawn = sorted(drawn);
        let variance = moments.variance();
        let varies = variance.sqrt() > ROUNDING * value.abs().max(1.0);
        Self {
            value,
            mean: moments.mean(),
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
