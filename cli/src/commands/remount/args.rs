//! What `eminentia remount` takes.

use std::path::PathBuf;

use clap::Args;

use crate::args::ReportArgs;

#[derive(Args)]
pub(crate) struct Remount {
    /// Remount file (RON): the scene it belongs to, the pin's lift, a centric record taken with the finished dentures
    #[arg(value_name = "REMOUNT")]
    pub(crate) file: PathBuf,
    #[command(flatten)]
    pub(crate) report: ReportArgs,
}
