//! Random numbers by row: row i's come of the seed and i alone, whoever asks and in which order.

use rand_chacha::ChaCha8Rng;
use rand_chacha::rand_core::{Rng, SeedableRng};

/// The stream of keys, with further ones before it; no plan has so many rows that one of them would use
/// it.
const KEY_STREAM: u64 = u64::MAX;

/// The random numbers of a seed: a stream of its own for each row, and one for keys.
#[derive(Clone, Debug)]
pub(super) struct Random {
    start: ChaCha8Rng,
}

impl Random {
    pub(super) fn new(seed: u64) -> Self {
        // The seed is the key as it stands, so that it means the same in every version of the
        // generator's crate.
        let mut key = [0; 32];
        key[..8].copy_from_slice(&seed.to_le_bytes());
        Self { start: ChaCha8Rng::from_seed(key) }
    }

    #[inline]
    pub(super) fn row(&self, row: u64) -> Draws {
        let mut generator = self.start.clone();
        generator.set_stream(row);
        Draws(generator)
    }

    pub(super) fn keys(&self) -> Draws {
        self.further_keys(0)
    }

    /// Keys of a stream of their own; the first are [`Self::keys`].
    pub(super) fn further_keys(&self, number: u32) -> Draws {
        self.row(KEY_STREAM - u64::from(number))
    }
}

/// The numbers of one stream, one after the other.
pub(super) struct Draws(ChaCha8Rng);

impl Draws {
    #[inline]
    pub(super) fn bits(&mut self) -> u64 {
        self.0.next_u64()
    }

    /// A number between 0 and 1, neither included.
    #[inline]
    pub(super) fn part(&mut self) -> f64 {
        part(self.bits())
    }
}

/// Bits of a part: with half of the last place added, f64 holds it exactly and it is never 0 or 1.
const PART_BITS: u32 = 52;

/// The leading bits as a number between 0 and 1, neither included: the middle of their cell.
#[inline(always)]
#[allow(clippy::cast_precision_loss)] // 52 bits are held exactly
pub(super) fn part(bits: u64) -> f64 {
    ((bits >> (u64::BITS - PART_BITS)) as f64 + 0.5) / (1_u64 << PART_BITS) as f64
}

/// Mixes the bits of a number well: the finaliser of the splitmix64 generator (constants of Stafford's
/// variant 13, from memory).
#[inline]
pub(super) const fn mixed(mut bits: u64) -> u64 {
    bits = (bits ^ (bits >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
    bits = (bits ^ (bits >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
    bits ^ (bits >> 31)
}
