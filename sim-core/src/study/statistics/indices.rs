//! Sobol' indices: which factor an output's variance comes from.

use rand_chacha::ChaCha8Rng;
use rand_chacha::rand_core::{Rng, SeedableRng};

use super::{quantile, sorted};

/// Part of the resamples that lies within an interval.
const WITHIN: f64 = 0.95;

/// An estimate and the interval that holds the middle 95 % of its bootstrap resamples.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Estimate {
    /// The estimate.
    pub value: f64,
    /// Lower end of the interval; not a number where nothing was resampled.
    pub low: f64,
    /// Upper end of the interval.
    pub high: f64,
}

/// The indices of one factor.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FactorIndices {
    /// Part of the variance that would go if the factor alone were known.
    pub first: Estimate,
    /// Part of the variance that would stay if all but the factor were known.
    pub total: Estimate,
}

/// Sobol' indices of an output, factor by factor.
#[derive(Clone, Debug, PartialEq)]
pub struct SobolIndices {
    /// Each factor's, in the order of the study.
    pub factors: Vec<FactorIndices>,
    /// Groups that they come of.
    pub groups: usize,
    /// Groups left out since one of their rows has no output.
    pub left_out: usize,
    /// Variance of the output.
    pub variance: f64,
}

/// Why there are no indices.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum IndicesError {
    /// Outputs that are not laid out in groups.
    #[error(
        "{rows} rows are no whole number of groups of {size} (k + 2 for k factors): Sobol' indices need the plan Indices"
    )]
    Layout {
        /// Number of rows.
        rows: usize,
        /// Rows of a group.
        size: usize,
    },
    /// Too few groups.
    #[error("only {whole} groups have an output in every row; Sobol' indices need 2 or more")]
    TooFew {
        /// Groups that are whole.
        whole: usize,
    },
    /// An output that does not vary.
    #[error("the output is the same in every row: no part of a variance of 0 comes from any factor")]
    Constant,
}

/// First-order and total Sobol' indices of an output whose rows are those of the plan `Indices`.
///
/// First order by the estimator of Saltelli et al. (Comput Phys Commun 2010;181:259–270, their
/// table 2, (b)), B·(AB − A); total by Jansen's (1999), (A − AB)²/2; both over the variance of A and B
/// together, the mean of all rows taken off before. `resamples` whole groups are drawn anew with
/// replacement for the intervals; the same seed gives the same intervals.
///
/// # Errors
/// [`IndicesError`].
pub fn sobol_indices(
    outputs: &[f64],
    factors: usize,
    resamples: u32,
    seed: u64,
) -> Result<SobolIndices, IndicesError> {
    let size = factors + 2;
    if outputs.is_empty() || !outputs.len().is_multiple_of(size) {
        return Err(IndicesError::Layout { rows: outputs.len(), size });
    }
    let whole: Vec<&[f64]> =
        outputs.chunks_exact(size).filter(|group| group.iter().all(|output| output.is_finite())).collect();
    let count = whole.len();
    if count < 2 {
        return Err(IndicesError::TooFew { whole: count });
    }
    #[allow(clippy::cast_precision_loss)]
    let mean = whole.iter().flat_map(|group| group.iter()).sum::<f64>() / (count * size) as f64;
    let groups: Vec<f64> = whole.iter().flat_map(|group| group.iter().map(|output| output - mean)).collect();
    let group = |number: usize| &groups[number * size..(number + 1) * size];

    let mut sums = Sums::new(factors);
    (0..count).for_each(|number| sums.take(group(number)));
    let (values, variance) = sums.indices();
    // What rounding leaves of a constant, and no more.
    if variance <= (mean.abs() * f64::EPSILON * 8.0).powi(2) {
        return Err(IndicesError::Constant);
    }
    let mut drawn = vec![[Vec::with_capacity(resamples as usize), Vec::new()]; factors];
    let mut random = ChaCha8Rng::seed_from_u64(seed);
    for _ in 0..resamples {
        let mut sums = Sums::new(factors);
        for _ in 0..count {
            sums.take(group(below(random.next_u64(), count)));
        }
        let (resampled, variance) = sums.indices();
        if variance > 0.0 {
            for (drawn, pair) in drawn.iter_mut().zip(resampled) {
                drawn.iter_mut().zip(pair).for_each(|(drawn, value)| drawn.push(value));
            }
        }
    }
    let factors = values.into_iter().zip(drawn).map(|([first, total], [firsts, totals])| FactorIndices {
        first: estimate(first, firsts),
        total: estimate(total, totals),
    });
    let left_out = outputs.len() / size - count;
    Ok(SobolIndices { factors: factors.collect(), groups: count, left_out, variance })
}

fn estimate(value: f64, drawn: Vec<f64>) -> Estimate {
    let drawn = sorted(drawn);
    let tail = (1.0 - WITHIN) / 2.0;
    Estimate { value, low: quantile(&drawn, tail), high: quantile(&drawn, 1.0 - tail) }
}

/// A whole number below `count`, each alike likely to one in 2^64.
#[allow(clippy::cast_possible_truncation)] // below a usize
fn below(bits: u64, count: usize) -> usize {
    ((u128::from(bits) * count as u128) >> 64) as usize
}

/// Sums over groups that the estimators are made of.
struct Sums {
    count: f64,
    sum: f64,
    squares: f64,
    /// B·(AB − A) and (A − AB)² of each factor.
    factors: Vec<[f64; 2]>,
}

impl Sums {
    fn new(factors: usize) -> Self {
        Self { count: 0.0, sum: 0.0, squares: 0.0, factors: vec![[0.0; 2]; factors] }
    }

    fn take(&mut self, group: &[f64]) {
        let (a, b) = (group[0], group[group.len() - 1]);
        self.count += 1.0;
        self.sum += a + b;
        self.squares += a * a + b * b;
        for ([first, total], exchanged) in self.factors.iter_mut().zip(&group[1..]) {
            *first += b * (exchanged - a);
            *total += (a - exchanged) * (a - exchanged);
        }
    }

    /// First-order and total index of each factor, and the variance.
    fn indices(&self) -> (Vec<[f64; 2]>, f64) {
        let mean = self.sum / (2.0 * self.count);
        let variance = self.squares / (2.0 * self.count) - mean * mean;
        let part =
            |[first, total]: &[f64; 2]| [first / self.count / variance, total / self.count / 2.0 / variance];
        (self.factors.iter().map(part).collect(), variance)
    }
}
