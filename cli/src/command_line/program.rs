//! What `eminentia program` takes.

use std::path::PathBuf;

use clap::{Args, ValueEnum};

#[derive(Args)]
pub(crate) struct Program {
    /// Case file (RON): the patient's records; `-` is standard input
    #[arg(value_name = "CASE")]
    pub(crate) case: PathBuf,
    /// Form of the output
    #[arg(long, value_enum, default_value_t)]
    pub(crate) format: ProgramFormat,
    /// Write to this file instead of standard output; an old file stays until the new one is whole
    #[arg(long, value_name = "FILE")]
    pub(crate) out: Option<PathBuf>,
    /// Write the programmed instrument as a scene (RON), to open with `eminentia excursion` or the
    /// viewer; not written when the centric record is not confirmed
    #[arg(long, value_name = "FILE")]
    pub(crate) scene_out: Option<PathBuf>,
}

/// The forms of a programmed case.
#[derive(ValueEnum, Clone, Copy, Debug, PartialEq, Eq, Default)]
pub(crate) enum ProgramFormat {
    /// For people: rounded, explained
    #[default]
    Table,
    /// For programs: full precision, everything
    Json,
}
