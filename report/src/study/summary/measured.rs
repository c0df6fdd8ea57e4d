//! What a summary has of one column.

use sim_core::study::Column;
use sim_core::study::statistics::{BAND, Estimate, Moments};

use super::convergence::Convergence;
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
    /// The mean with its interval.
    pub mean: Estimate,
    /// At [`BAND`], with their intervals.
    pub quantiles: [Estimate; BAND.len()],
    /// Share of the rows with a clearance below 0; of clearances only.
    pub below_zero: Option<Estimate>,
    /// What it came to with fewer rows; nothing where the rows are no sample.
    pub convergence: Option<Convergence>,
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
    /// Share that says yes, of those that say something, with its interval.
    pub share: Estimate,
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

/// A count as part of another.
#[allow(clippy::cast_precision_loss)] // counts are below 2^53
pub fn share(count: u64, of: u64) -> f64 {
    count as f64 / of as f64
}
