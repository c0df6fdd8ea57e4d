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
pub(super) struct Scramblings {
    points: Vec<Points>,
    /// The keys of each dimension side by side.
    side_by_side: Vec<KeyRows>,
}

/// Keys of a dimension, of one scrambling after the other; behind the last stand the first ones again, so that
/// wherever a row of lanes begins its keys stand in a row.
type KeyRows = [[Vec<u64>; 3]; ROUNDS];

impl Scramblings {
    /// The scramblings of a seed, 1 or more, in at most [`MOST_DIMENSIONS`] dimensions.
    pub(super) fn new(seed: u64, dimensions: usize, count: u32) -> Self {
        let random = Random::new(seed);
        let points: Vec<Points> =
            (0..count.max(1)).map(|number| Points::of(random.further_keys(number), dimensions)).collect();
        let in_a_row = || points.iter().cycle().take(points.len() + LANES);
        let rows = |dimension: usize| -> KeyRows {
            std::array::from_fn(|round| {
                std::array::from_fn(|key| {
                    in_a_row().map(|points| points.keys[dimension][round][key]).collect()
                })
            })
        };
        let side_by_side = (0..dimensions).map(rows).collect();
        Self { points, side_by_side }
    }

    /// One coordinate of a point, between 0 and 1, neither included.
    #[inline]
    #[allow(clippy::cast_possible_truncation)] // below the number of scramblings
    pub(super) fn part(&self, number: u64, dimension: usize) -> f64 {
        let count = self.points.len() as u64;
        self.points[(number % count) as usize].part(number / count, dimension)
    }
}

impl Scramblings {
    /// [`Self::part`] of the numbers from `first` on, one for each lane.
    #[allow(clippy::cast_possible_truncation)] // below the number of scramblings
    pub(super) fn parts(&self, first: u64, dimension: usize, parts: &mut Lane) {
        let count = self.points.len() as u64;
        let directions = &self.points[0].directions[dimension];
        let (mut point, mut after) = (first / count, first % count);
        let keys_from = after as usize;
        let mut coordinate = plain(directions, point);
        let mut coordinates = [0; LANES];
        for lane in &mut coordinates {
            *lane = coordinate;
            after += 1;
            if after == count {
                after = 0;
                point += 1;
                // Of what changes from one number to the next there are two digits in the mean.
                coordinate ^= plain(directions, point ^ (point - 1));
            }
        }
        let keys = self.side_by_side[dimension].each_ref().map(|round| {
            let mut lanes = [[0; LANES]; 3];
            for (lanes, keys) in lanes.iter_mut().zip(round) {
                lanes.copy_from_slice(&keys[keys_from..keys_from + LANES]);
            }
            lanes
        });
        widely(Scrambling { coordinates: &coordinates, keys: &keys, parts });
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

/// All lanes scrambled.
struct Scrambling<'a> {
    coordinates: &'a [u64; LANES],
    keys: &'a [[[u64; LANES]; 3]; ROUNDS],
    parts: &'a mut Lane,
}

impl Work for Scrambling<'_> {
    #[inline(always)]
    fn run(self) {
        for lane in 0..LANES {
            let [one, two, three] = self.keys;
            let of = |round: &[[u64; LANES]; 3]| [round[0][lane], round[1][lane], round[2][lane]];
            self.parts[lane] = part(scrambled(self.coordinates[lane], &[of(one), of(two), of(three)]));
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
            let (one, other) = (mean(&both.points[0]), mean(&both.points[1]));
            sums = [sums[0] + one * one, sums[1] + other * other, sums[2] + one * other];
            assert_eq!(both.part(7, 1), both.points[1].part(3, 1), "in turn");
        }
        assert!((sums[2] / (sums[0] * sums[1]).sqrt()).abs() < 0.11, "{sums:?}");
    }
}
