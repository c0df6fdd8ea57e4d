//! What is worked out of a table.

/// What is worked out of a table.
pub struct Options {
    /// Places of the measured columns that are summed up.
    pub measures: Vec<usize>,
    /// Bootstrap resamples of Sobol' indices.
    pub resamples: u32,
    /// Seed of the resamples.
    pub seed: u64,
}
