//! What `eminentia viva` takes.

use clap::{Args, ValueEnum};
use sim_core::viva::VivaLevel;

use crate::args::ReportWithoutCsvArgs;

#[derive(Args)]
pub(crate) struct Viva {
    /// What the questions are drawn from: the same number gives the same questions
    #[arg(long, value_name = "NUMBER")]
    pub(crate) seed: u64,
    /// How hard the questions are
    #[arg(long, value_enum, default_value_t)]
    pub(crate) level: LevelName,
    /// How many
    #[arg(long, value_name = "N", default_value_t = 10, value_parser = clap::value_parser!(u16).range(1..=500))]
    pub(crate) count: u16,
    #[command(flatten)]
    pub(crate) report: ReportWithoutCsvArgs,
}

/// A level as it is typed.
#[derive(Clone, Copy, Default, ValueEnum)]
pub(crate) enum LevelName {
    /// One guide and its formula
    #[default]
    First,
    /// Cusps, and the split
    Second,
    /// Designs, tracings, axes
    Third,
}

impl From<LevelName> for VivaLevel {
    fn from(name: LevelName) -> Self {
        match name {
            LevelName::First => Self::First,
            LevelName::Second => Self::Second,
            LevelName::Third => Self::Third,
        }
    }
}
