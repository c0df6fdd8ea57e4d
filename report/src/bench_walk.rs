//! A case walked along the bench.

use sim_core::bench::{Bench, Step, Trial};

use crate::case::WorkedCase;

/// A case on the bench, with the guides at trial angles.
#[derive(Clone, Debug)]
pub struct BenchWalk<'w> {
    /// The case.
    pub worked: &'w WorkedCase,
    /// What the guides are set to.
    pub trial: Trial,
    /// The steps, as far as they go.
    pub steps: Vec<Step>,
}

impl<'w> BenchWalk<'w> {
    /// Walks the bench; a case whose centric record is not confirmed is walked as far as that.
    #[must_use]
    pub fn of(worked: &'w WorkedCase, trial: Trial) -> Self {
        let bench = Bench::of(&worked.case, &worked.programmed);
        Self { worked, steps: bench.walk(&trial), trial }
    }
}
