//! What `eminentia study from` takes.

use std::path::PathBuf;

use clap::Args;
use sim_core::doubt::USUAL_DRAWS;

#[derive(Args)]
pub(crate) struct StudyFrom {
    /// Case file (RON): the patient's records; `-` is standard input
    #[arg(value_name = "CASE")]
    pub(crate) case: PathBuf,
    /// The study's file (RON) [default: standard output]
    #[arg(long, value_name = "FILE")]
    pub(crate) out: Option<PathBuf>,
    /// Number of draws from which standard errors and correlations come
    #[arg(long, value_name = "N", default_value_t = USUAL_DRAWS, allow_negative_numbers = true)]
    pub(crate) draws: u32,
    /// Seed of the draws, and of the study's rows
    #[arg(long, value_name = "N", default_value_t = 1, allow_negative_numbers = true)]
    pub(crate) seed: u64,
}
