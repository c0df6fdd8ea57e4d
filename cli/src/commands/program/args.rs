//! What `eminentia program` takes.

use std::path::PathBuf;

use clap::Args;

use crate::args::ReportWithoutCsvArgs;

#[derive(Args)]
pub(crate) struct Program {
    /// Case file (RON): the patient's records; `-` is standard input
    #[arg(value_name = "CASE")]
    pub(crate) case: PathBuf,
    #[command(flatten)]
    pub(crate) report: ReportWithoutCsvArgs,
    /// Write the programmed instrument as a scene (RON), to open with `eminentia excursion` or the
    /// viewer; not written when the centric record is not confirmed
    #[arg(long, value_name = "FILE")]
    pub(crate) scene_out: Option<PathBuf>,
}
