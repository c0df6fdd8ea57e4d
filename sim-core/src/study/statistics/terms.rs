//! Statistics that are functions of sums over groups of rows, with their intervals.

use rand_chacha::ChaCha8Rng;
use rand_chacha::rand_core::{Rng, SeedableRng};

use super::estimate::{CONFIDENCE, Estimate};
use super::{quantile, sorted};

/// Fewest resamples that have an interval; of fewer the ends are where chance put them.
pub const LEAST_RESAMPLES: u32 = 20;
/// More resamples only take time: the most that programs take.
pub const MOST_RESAMPLES: u32 = 100_000;

/// How intervals are made.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Resampling {
    /// Groups are independent of each other: whole groups are drawn anew with replacement, and an
    /// interval holds the middle 95 % of what they come to; the same seed gives the same intervals.
    Bootstrap {
        /// How often; 0 for no intervals.
        resamples: u32,
        /// Seed of the draws.
        seed: u64,
    },
    /// Groups belong in turn to scramblings that are independent of each other: Student's interval by
    /// the jackknife, each scrambling left out once.
    Replicates {
        /// Number of scramblings.
        replicates: usize,
        /// Number of the first group in its study, from 0.
        first_group: u64,
    },
}

/// For each group the same terms, whose sums over groups a statistic is made of.
pub(super) struct Terms {
    width: usize,
    terms: Vec<f64>,
    /// The number of each group in its study.
    numbers: Vec<u64>,
}

#[allow(clippy::cast_precision_loss)] // counts are below 2^53
impl Terms {
    pub(super) const fn new(width: usize) -> Self {
        Self { width, terms: Vec::new(), numbers: Vec::new() }
    }

    /// Takes a group by its number in the study.
    pub(super) fn push(&mut self, number: u64, terms: impl IntoIterator<Item = f64>) {
        self.terms.extend(terms);
        self.numbers.push(number);
    }

    fn group(&self, at: usize) -> &[f64] {
        &self.terms[at * self.width..(at + 1) * self.width]
    }

    /// Sums of these groups over their count.
    fn means(&self, groups: impl Iterator<Item = usize>) -> Vec<f64> {
        let (mut sums, mut count) = (vec![0.0; self.width], 0.0);
        for at in groups {
            count += 1.0;
            sums.iter_mut().zip(self.group(at)).for_each(|(sum, term)| *sum += term);
        }
        sums.iter_mut().for_each(|sum| *sum /= count);
        sums
    }

    /// What the statistic comes to, each number with its interval. It is given the means of the terms
    /// over groups, and has nothing to say where they do not vary.
    pub(super) fn estimates(
        &self,
        statistic: impl Fn(&[f64]) -> Option<Vec<f64>>,
        resampling: Resampling,
    ) -> Option<Vec<Estimate>> {
        let values = statistic(&self.means(0..self.numbers.len()))?;
        Some(match resampling {
            Resampling::Bootstrap { resamples, seed } => self.bootstrap(&values, statistic, resamples, seed),
            Resampling::Replicates { replicates, .. } => self.jackknife(&values, statistic, replicates),
        })
    }

    fn bootstrap(
        &self,
        values: &[f64],
        statistic: impl Fn(&[f64]) -> Option<Vec<f64>>,
        resamples: u32,
        seed: u64,
    ) -> Vec<Estimate> {
        let count = self.numbers.len();
        let mut drawn = vec![Vec::with_capacity(resamples as usize); values.len()];
        let mut random = ChaCha8Rng::seed_from_u64(seed);
        for _ in 0..resamples {
            let means = self.means((0..count).map(|_| below(random.next_u64(), count)));
            if let Some(resampled) = statistic(&means) {
                drawn.iter_mut().zip(resampled).for_each(|(drawn, value)| drawn.push(value));
            }
        }
        let tail = (1.0 - CONFIDENCE) / 2.0;
        let estimate = |(value, drawn): (&f64, Vec<f64>)| {
            let drawn = sorted(drawn);
            Estimate { value: *value, low: quantile(&drawn, tail), high: quantile(&drawn, 1.0 - tail) }
        };
        values.iter().zip(drawn).map(estimate).collect()
    }

    fn jackknife(
        &self,
        values: &[f64],
        statistic: impl Fn(&[f64]) -> Option<Vec<f64>>,
        replicates: usize,
    ) -> Vec<Estimate> {
        let replicates = replicates.max(1) as u64;
        let is_of = |at: usize, replicate: u64| self.numbers[at] % replicates == replicate;
        let count = self.numbers.len();
        let there = (0..replicates).filter(|replicate| (0..count).any(|at| is_of(at, *replicate)));
        let without =
            there.map(|replicate| statistic(&self.means((0..count).filter(|at| !is_of(*at, replicate)))));
        let Some(without) = without.collect::<Option<Vec<_>>>() else {
            return values.iter().copied().map(Estimate::bare).collect();
        };
        let estimate =
            |(place, value): (usize, &f64)| jackknifed(*value, without.iter().map(|values| values[place]));
        values.iter().enumerate().map(estimate).collect()
    }
}

/// Student's interval about a value by what it comes to with each of its parts left out once (Tukey
/// 1958, from memory); none of fewer than two parts.
#[allow(clippy::cast_precision_loss)] // counts are below 2^53
pub(super) fn jackknifed(value: f64, without: impl Iterator<Item = f64> + Clone) -> Estimate {
    let parts = without.clone().count() as f64;
    if parts < 2.0 {
        return Estimate::bare(value);
    }
    let mean = without.clone().sum::<f64>() / parts;
    let squares: f64 = without.map(|part| (part - mean).powi(2)).sum();
    Estimate::student(value, (squares * (parts - 1.0) / parts).sqrt(), parts - 1.0)
}

/// A whole number below `count`, each alike likely to one in 2^64.
#[allow(clippy::cast_possible_truncation)] // below a usize
fn below(bits: u64, count: usize) -> usize {
    ((u128::from(bits) * count as u128) >> 64) as usize
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn of_a_mean_the_jackknife_is_student_s_interval_of_the_parts_means() {
        let mut terms = Terms::new(1);
        let numbers = [3.0, 1.0, 4.0, 1.0, 5.0, 9.0, 2.0, 6.0];
        (0..).zip(numbers).for_each(|(number, term)| terms.push(number, [term]));
        let resampling = Resampling::Replicates { replicates: 4, first_group: 0 };
        let [mean] = terms.estimates(|means| Some(means.to_vec()), resampling).expect("a mean")[..] else {
            panic!("one number")
        };
        // Means of the four parts: 4, 5, 3, 3.5.
        let parts = [4.0, 5.0, 3.0, 3.5];
        let middle = parts.iter().sum::<f64>() / 4.0;
        let squares: f64 = parts.iter().map(|part| (part - middle) * (part - middle)).sum();
        let expected = Estimate::student(middle, (squares / 3.0 / 4.0).sqrt(), 3.0);
        assert!((mean.value - expected.value).abs() < 1e-12 && (mean.low - expected.low).abs() < 1e-12);
    }

    #[test]
    fn a_single_part_has_no_interval() {
        assert!(!jackknifed(1.0, std::iter::once(1.0)).has_interval());
    }
}
