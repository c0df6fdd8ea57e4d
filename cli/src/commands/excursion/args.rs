//! What `eminentia excursion` takes.

use clap::Args;

use crate::args::{Changes, OneScene, PlotArgs, ReportArgs};

#[derive(Args, Default)]
pub(crate) struct Excursion {
    #[command(flatten)]
    pub(crate) scene: OneScene,
    #[command(flatten)]
    pub(crate) changes: Changes,
    #[command(flatten)]
    pub(crate) report: ReportArgs,
    #[command(flatten)]
    pub(crate) plot: PlotArgs,
}
