//! How many threads may be asked for.

/// Most threads that can be asked for: no machine has more processors, and each takes memory.
const MOST_THREADS: i64 = 1024;

/// Takes a number of threads.
pub(super) fn threads() -> clap::builder::RangedI64ValueParser<u16> {
    clap::value_parser!(u16).range(1..=MOST_THREADS)
}
