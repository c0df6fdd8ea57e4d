//! One input after the other.

use std::fs;
use std::io::Result;

use rand_chacha::ChaCha8Rng;
use rand_chacha::rand_core::{Rng, SeedableRng};

use crate::corpus::{self, Seed};
use crate::damage::damaged;
use crate::taken::{scenes, take};

/// What came of some inputs.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Came {
    /// How many there were.
    pub inputs: u64,
    /// Of these, how many were read and solved; the others were refused with a message.
    pub read: u64,
    /// How many were not taken as they should. They are in `fuzz/failures/`.
    pub failed: u64,
}

/// Takes inputs of a seed, numbered from 0, as long as `goes_on` says.
///
/// # Errors
/// Where the corpus cannot be read, or a failure not be saved.
pub fn inputs(seed: u64, goes_on: impl Fn(u64) -> bool) -> Result<Came> {
    let corpus = corpus::read()?;
    let others = scenes(&corpus);
    let mut came = Came::default();
    while goes_on(came.inputs) {
        let number = came.inputs;
        // Each input has a generator of its own, so that one can be made again alone.
        let mut random = ChaCha8Rng::seed_from_u64(seed.wrapping_mul(1 << 32).wrapping_add(number));
        let own = any(&corpus, &mut random);
        let bytes = damaged(&own.bytes, &any(&corpus, &mut random).bytes, &mut random);
        match take(own, &bytes, &others) {
            Ok(read) => came.read += u64::from(read),
            Err(failure) => {
                let folder = corpus::root().join("fuzz/failures");
                fs::create_dir_all(&folder)?;
                fs::write(folder.join(format!("{seed}-{number}-{}", own.name)), &bytes)?;
                eprintln!("input {number} of seed {seed} ({}): {failure:?}", own.name);
                came.failed += 1;
            }
        }
        came.inputs += 1;
    }
    Ok(came)
}

fn any<'c>(corpus: &'c [Seed], random: &mut ChaCha8Rng) -> &'c Seed {
    let index = usize::try_from(random.next_u64() % corpus.len().max(1) as u64).unwrap_or_default();
    &corpus[index]
}
