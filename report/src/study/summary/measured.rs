//! What a summary has of one column.

use sim_core::study::Column;
use sim_core::study::statistics::{BAND, Moments};

use super::reasons::Reason;
use super::sensitivity::{NoSensitivity, Sensitivity};

/// Mean and ends of a setting's values.
pub struct Spread {
    /// The column.
    pub column: Column,
    /// Count, mean, deviation and ends.
    pub moments: Moments,
    /// The same of the rows in which everything was measured.
    pub in_whole_rows: Moments,
}

/// A measured column of numbers.
pub struct Numbers {
    /// Its place among the study's columns.
    pub place: usize,
    /// The column.
    pub column: Column,
    /// Count, mean, deviation and ends.
    pub moments: Moments,
    /// At [`BAND`].
    pub quantiles: [f64; BAND.len()],
    /// Rows without a number, by reason.
    pub missing: Vec<Reason>,
    /// Which factors it comes from, or why that is not known.
    pub sensitivity: Result<Sensitivity, NoSensitivity>,
}

/// A measured column of yes or no.
pub struct Flags {
    /// The column.
    pub column: Column,
    /// Rows that say yes.
    pub yes: u64,
    /// Rows that say no.
    pub no: u64,
    /// Rows that say nothing, by reason.
    pub missing: Vec<Reason>,
}

/// A measured column of words.
pub struct Words {
    /// The column.
    pub column: Column,
    /// Each word with its rows, the most frequent first.
    pub counts: Vec<(String, u64)>,
    /// Rows that say nothing, by reason.
    pub missing: Vec<Reason>,
}

impl Flags {
    /// Part of the rows that say yes; not a number where none says anything.
    pub fn share(&self) -> f64 {
        share(self.yes, self.yes + self.no)
    }
}

/// A count as part of another.
#[allow(clippy::cast_precision_loss)] // counts are below 2^53
pub fn share(count: u64, of: u64) -> f64 {
    count as f64 / of as f64
}
