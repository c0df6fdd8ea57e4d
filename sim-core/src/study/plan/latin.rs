//! Latin hypercube: each factor's range cut into as many strata as there are rows, one row in each.
//!
//! Which stratum a row has is a permutation that is computed, not stored: a row number is written as
//! (l, r) on a board of about √n by √n, and l and r are in turn shifted, round their own side, by a
//! keyed mixture of the other (an unbalanced Feistel network on arbitrary sides, as in Black and
//! Rogaway 2002, from memory). Each shift can be undone, so the whole is a permutation of the board;
//! a number that lands on the few squares past n goes round again until it lands below n, which keeps
//! it a permutation of the n. Within its stratum a row is placed at random.

use super::random::{Draws, Random, mixed};

/// Shifts of each side; four of each leave no trace of the order in tests of eight rows or a thousand.
const ROUNDS: usize = 4;

#[derive(Clone, Debug)]
pub(super) struct Latin {
    random: Random,
    rows: u64,
    orders: Vec<Order>,
}

/// A permutation of the numbers below `count`.
#[derive(Clone, Debug)]
struct Order {
    count: u64,
    /// Sides of the board.
    across: u64,
    down: u64,
    keys: [[u64; 2]; ROUNDS],
}

impl Latin {
    pub(super) fn new(rows: u64, seed: u64, factors: usize) -> Self {
        let random = Random::new(seed);
        let mut keys = random.keys();
        let orders = (0..factors).map(|_| Order::new(rows, &mut keys)).collect();
        Self { random, rows, orders }
    }

    /// A part for each factor.
    #[inline]
    pub(super) fn parts(&self, row: u64, parts: &mut [f64]) {
        let mut draws = self.random.row(row);
        for (part, order) in parts.iter_mut().zip(&self.orders) {
            *part = within(order.of(row), self.rows, draws.bits());
        }
    }
}

/// A place in the middle of a fine cell of a stratum. Numerator and denominator are whole numbers
/// below 2^52, so that rounding cannot carry it into the next stratum.
#[inline]
#[allow(clippy::cast_precision_loss)] // below 2^53
fn within(stratum: u64, strata: u64, bits: u64) -> f64 {
    let fine = 51_u32.saturating_sub(u64::BITS - strata.leading_zeros());
    let cell = if fine == 0 { 0 } else { bits >> (u64::BITS - fine) };
    (((stratum << fine) + cell) as f64 + 0.5) / (strata << fine) as f64
}

impl Order {
    fn new(count: u64, keys: &mut Draws) -> Self {
        let side = count.isqrt();
        let across = if side * side < count { side + 1 } else { side };
        let down = count.div_ceil(across.max(1));
        Self { count, across, down, keys: std::array::from_fn(|_| [keys.bits(), keys.bits()]) }
    }

    #[inline]
    fn of(&self, number: u64) -> u64 {
        let mut at = number;
        loop {
            let (mut l, mut r) = (at % self.across, at / self.across);
            for [first, second] in self.keys {
                l = shifted(l, mixed(first ^ r), self.across);
                r = shifted(r, mixed(second ^ l), self.down);
            }
            at = r * self.across + l;
            if at < self.count {
                return at;
            }
        }
    }
}

/// `place` moved on round a side of this length.
#[inline]
#[allow(clippy::cast_possible_truncation)] // the product's upper half is below the length
fn shifted(place: u64, by: u64, length: u64) -> u64 {
    let moved = place + ((u128::from(by) * u128::from(length)) >> 64) as u64;
    if moved >= length { moved - length } else { moved }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_order_is_a_permutation() {
        for count in (1..200).chain([1000, 1023, 1024, 1025]) {
            let order = Order::new(count, &mut Random::new(count).keys());
            let mut met: Vec<u64> = (0..count).map(|number| order.of(number)).collect();
            met.sort_unstable();
            assert!(met.into_iter().eq(0..count), "{count}");
        }
    }

    #[test]
    fn every_number_is_sent_everywhere_alike_often() {
        // Greatest of eight times eight tallies, each binomial about 1,000 with a deviation of 30: five
        // deviations, which chance passes in one of 25,000 such tests.
        const SEEDS: u64 = 8_000;
        let mut tallies = [[0_i64; 8]; 8];
        for seed in 0..SEEDS {
            let order = Order::new(8, &mut Random::new(seed).keys());
            for (number, tally) in tallies.iter_mut().enumerate() {
                tally[order.of(number as u64) as usize] += 1;
            }
        }
        for tally in tallies.iter().flatten() {
            assert!((tally - 1000).abs() < 150, "{tallies:?}");
        }
    }

    #[test]
    fn the_last_cell_of_the_last_stratum_stays_in_it() {
        for strata in [1, 3, 1000, (1 << 40) + 1, 1 << 50] {
            let last = within(strata - 1, strata, u64::MAX);
            assert!(last < 1.0, "{strata}");
            assert_eq!((last * strata as f64) as u64, strata - 1, "{strata}");
            assert_eq!((within(strata / 2, strata, 0) * strata as f64) as u64, strata / 2, "{strata}");
        }
    }
}
