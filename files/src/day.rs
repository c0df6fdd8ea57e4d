//! The day on which something is written.

use std::time::{SystemTime, UNIX_EPOCH};

const SECONDS_A_DAY: u64 = 86_400;

/// Today in Universal Time, as `2026-11-27`. Where `SOURCE_DATE_EPOCH` is set (seconds from 1970, the open
/// convention by which what is written twice is the same twice), it stands for the clock.
#[must_use]
pub fn today() -> String {
    let given = std::env::var("SOURCE_DATE_EPOCH").ok().and_then(|seconds| seconds.trim().parse().ok());
    let clock = || SystemTime::now().duration_since(UNIX_EPOCH).map_or(0, |since| since.as_secs());
    words::day::written(given.unwrap_or_else(clock) / SECONDS_A_DAY)
}
