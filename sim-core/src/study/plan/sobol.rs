//! Sobol' points, scrambled.
//!
//! Direction numbers of Joe and Kuo (SIAM J Sci Comput 2008;30:2635–2654; as shipped by the crate
//! `sobol`), checked against SciPy's. Each dimension is scrambled in the nested way of Owen (1995):
//! whether a digit of a coordinate is flipped is decided at random anew for every run of digits before
//! it. The decisions come of a keyed hash that only carries from earlier digits to later ones, in the
//! manner of Laine and Karras (2011, from memory) with 64 bits and whole keys, so that every
//! coordinate is computed alone. It turns every dyadic stratum into one of the same size, and so
//! keeps what makes the points even.

use std::sync::LazyLock;

use sobol::Sobol;
use sobol::params::JoeKuoD6;

use super::random::{Draws, Random, part};
use crate::lanes::{LANES, Lane, Work, widely};

/// Digits of a row number that count: 2^50 rows.
const DIGITS: usize = 50;
/// Rounds of the hash.
const ROUNDS: usize = 3;
/// Dimensions that the crate's shorter table holds.
pub(super) const MOST_DIMENSIONS: usize = 100;

/// Directions of every dimension: unpacking them takes longer than a thousand points.
static DIRECTIONS: LazyLock<Vec<[u64; DIGITS]>> = LazyLock::new(|| {
    let parameters = JoeKuoD6::minimal();
    let all = Sobol::<u64>::init_direction_vals::<u32>(MOST_DIMENSIONS, DIGITS, &parameters);
    all.iter().map(|directions| std::array::from_fn(|digit| directions[digit])).collect()
});

/// Points of several independent scramblings: the first of each, then the second of each.
#[derive(Clone, Debug)]
pub(super) struct Scramblings(Vec<Points>);

impl Scramblings {
    /// The scramblings of a seed, 1 or more, in at most [`MOST_DIMENSIONS`] dimensions.
    pub(super) fn new(seed: u64, dimensions: usize, count: u32) -> Self {
        let random = Random::new(seed);
        Self((0..count.max(1)).map(|number| Points::of(random.further_keys(number), dimensions)).collect())
    }

    /// One coordinate of a point, between 0 and 1, neither included.
    #[inline]
    #[allow(clippy::cast_possible_truncation)] // below the number of scramblings
    pub(super) fn part(&self, number: u64, dimension: usize) -> f64 {
        let count = self.0.len() as u64;
        self.0[(number % count) as usize].part(number / count, dimension)
    }
}

impl Scramblings {
    /// [`Self::part`] of `count` points from `first` on, as many as there are lanes at most.
    pub(super) fn parts(&self, first: u64, count: usize, dimension: usize, parts: &mut Lane) {
        if let [points] = &self.0[..] {
            points.parts(first, dimension, parts);
            return;
        }
        for (lane, own) in parts[..count].iter_mut().enumerate() {
            *own = self.part(first + lane as u64, dimension);
        }
    }
}

#[derive(Clone, Debug)]
struct Points {
    /// Keys of each dimension's scrambling.
    keys: Vec<[[u64; 3]; ROUNDS]>,
    directions: &'static [[u64; DIGITS]],
}

impl Points {
    /// The points that these keys scramble, in at most [`MOST_DIMENSIONS`] dimensions.
    fn of(mut draws: Draws, dimensions: usize) -> Self {
        let mut keys = || std::array::from_fn(|_| std::array::from_fn(|_| draws.bits()));
        Self { keys: (0..dimensions).map(|_| keys()).collect(), directions: &DIRECTIONS }
    }

    /// One coordinate of a point, between 0 and 1, neither included.
    #[inline]
    fn part(&self, point: u64, dimension: usize) -> f64 {
        part(scrambled(plain(&self.directions[dimension], point), &self.keys[dimension]))
    }
}

impl Points {
    /// [`Self::part`] of the points from `first` on, one for each lane.
    fn parts(&self, first: u64, dimension: usize, parts: &mut Lane) {
        let directions = &self.directions[dimension];
        let mut coordinates = [plain(directions, first); LANES];
        for lane in 1..LANES {
            // Of what changes from one number to the next there are two digits in the mean.
            let number = first.wrapping_add(lane as u64);
            coordinates[lane] = coordinates[lane - 1] ^ plain(directions, number ^ number.wrapping_sub(1));
        }
        widely(Scrambling { coordinates: &coordinates, keys: &self.keys[dimension], parts });
    }
}

/// All lanes scrambled.
struct Scrambling<'a> {
    coordinates: &'a [u64; LANES],
    keys: &'a [[u64; 3]; ROUNDS],
    parts: &'a mut Lane,
}

impl Work for Scrambling<'_> {
    #[inline(always)]
    fn run(self) {
        for lane in 0..LANES {
            self.parts[lane] = part(scrambled(self.coordinates[lane], self.keys));
        }
    }
}

/// The coordinate before it is scrambled, its first digit in the first bit.
#[inline]
fn plain(directions: &[u64; DIGITS], point: u64) -> u64 {
    let (mut bits, mut coordinate) = (point, 0);
    while bits != 0 {
        coordinate ^= directions[bits.trailing_zeros() as usize % DIGITS];
        bits &= bits - 1;
    }
    coordinate
}

/// Sums and products carry from low bits to high ones only, so the digits are turned about for them.
#[inline(always)]
fn scrambled(coordinate: u64, keys: &[[u64; 3]; ROUNDS]) -> u64 {
    let mut digits = coordinate.reverse_bits();
    for [add, even, odd] in keys {
        digits = digits.wrapping_add(*add);
        digits ^= digits.wrapping_mul(even << 1);
        digits = digits.wrapping_mul(odd | 1);
    }
    digits.reverse_bits()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Written by `tests/outside/scipy_distributions.py`.
    const SCIPY: &str = include_str!("../../../../tests/outside/sobol_points.csv");

    #[test]
    fn before_scrambling_every_dimension_has_the_points_of_scipy() {
        let points = Points::of(Random::new(1).keys(), MOST_DIMENSIONS);
        let rows = SCIPY.lines().filter(|line| !line.starts_with(['#', 'p']));
        let mut compared = 0;
        for row in rows {
            let mut numbers = row.split(',');
            let point = numbers.next().expect("a point").parse().expect("its number");
            for (dimension, number) in points.directions.iter().zip(numbers) {
                // Coordinates of points below 2^30 have at most 30 digits: they are exact.
                let expected: f64 = number.parse().expect("a coordinate");
                assert_eq!(plain(dimension, point) as f64 / 2_f64.powi(64), expected, "{point}");
                compared += 1;
            }
        }
        assert_eq!(compared, 8 * MOST_DIMENSIONS);
    }

    /// Of a nested scrambling at random, n = 2^k points are one in each stratum, each anywhere in its
    /// own whatever the others do: the mean of a coordinate then has the variance 1/(12 n³). A sample
    /// variance of so many seeds is sure to about 2 %; five times that is allowed.
    #[test]
    fn strata_are_scrambled_each_by_itself() {
        const SEEDS: u64 = 5_000;
        for count in [1, 2, 4, 16, 64] {
            for dimension in [0, 1, 4] {
                let mut squares = 0.0;
                for seed in 0..SEEDS {
                    let points = Points::of(Random::new(seed).keys(), dimension + 1);
                    let sum: f64 = (0..count).map(|point| points.part(point, dimension)).sum();
                    squares += (sum / count as f64 - 0.5).powi(2);
                }
                let ratio = squares / SEEDS as f64 * 12.0 * (count as f64).powi(3);
                assert!((ratio - 1.0).abs() < 0.1, "{count} points, dimension {dimension}: {ratio}");
            }
        }
    }

    /// The first point of a scrambling is anywhere in the square: of 16 × 16 tallies, each about 80
    /// with a deviation of 9, none strays by six deviations.
    #[test]
    fn a_point_is_sent_anywhere_in_every_two_dimensions() {
        let mut tallies = [[0_i32; 16]; 16];
        for seed in 0..80 * 256 {
            let points = Points::of(Random::new(seed).keys(), 3);
            let cell = |dimension| (points.part(3, dimension) * 16.0) as usize;
            tallies[cell(1)][cell(2)] += 1;
        }
        assert!(tallies.iter().flatten().all(|tally| (tally - 80).abs() < 54), "{tallies:?}");
    }

    /// Means of 64 points each: scrambled by themselves they differ as means of different seeds do, and are
    /// not correlated. A correlation of 2,000 pairs has a standard error of 0.022; five times that is allowed.
    #[test]
    fn scramblings_of_one_seed_are_independent_of_each_other() {
        const SEEDS: u64 = 2_000;
        let mean = |points: &Points| (0..64).map(|point| points.part(point, 1)).sum::<f64>() / 64.0 - 0.5;
        let mut sums = [0.0; 3];
        for seed in 0..SEEDS {
            let both = Scramblings::new(seed, 2, 2);
            let (one, other) = (mean(&both.0[0]), mean(&both.0[1]));
            sums = [sums[0] + one * one, sums[1] + other * other, sums[2] + one * other];
            assert_eq!(both.part(7, 1), both.0[1].part(3, 1), "in turn");
        }
        assert!((sums[2] / (sums[0] * sums[1]).sqrt()).abs() < 0.11, "{sums:?}");
    }
}
