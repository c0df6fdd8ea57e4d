//! What `eminentia compare` takes.

use std::path::PathBuf;

use clap::Args;

use crate::args::{Changes, PlotArgs, ReportArgs};

#[derive(Args)]
pub(crate) struct Compare {
    /// One scene and changes, or two scenes; `-` is standard input [default: the compiled-in scene]
    #[arg(value_name = "SCENE", num_args = 0..=2)]
    pub(crate) scenes: Vec<PathBuf>,
    #[command(flatten)]
    pub(crate) changes: Changes,
    #[command(flatten)]
    pub(crate) report: ReportArgs,
    #[command(flatten)]
    pub(crate) plot: PlotArgs,
}
