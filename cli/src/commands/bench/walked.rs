//! A case walked along the bench.

use report::case::WorkedCase;
use sim_core::bench::{Step, Trial};

/// A case on the bench, with the guides at trial angles.
pub(super) struct BenchReport<'w> {
    pub(super) worked: &'w WorkedCase,
    pub(super) trial: Trial,
    pub(super) steps: Vec<Step>,
}
