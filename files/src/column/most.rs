//! How many numbers a column may have.

use words::number::in_threes;

/// Most numbers of a column. A study's table carries its study in full, every number of its columns in words.
pub(super) const MOST_NUMBERS: usize = 1_000_000;

/// Said of a column of more.
pub(super) fn too_many() -> String {
    format!(
        "has more than {} numbers, which is as many as a factor may have; give fewer, or a distribution that they come \
         from",
        in_threes(MOST_NUMBERS as u64)
    )
}
