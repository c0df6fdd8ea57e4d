//! What `eminentia baseline` takes.

use clap::Args;

use crate::args::{Changes, OneScene, ReportArgs};

#[derive(Args)]
pub(crate) struct Baseline {
    #[command(flatten)]
    pub(crate) scene: OneScene,
    #[command(flatten)]
    pub(crate) changes: Changes,
    #[command(flatten)]
    pub(crate) report: ReportArgs,
}
