//! What `eminentia study` takes.

mod summary;

use clap::Subcommand;

pub(crate) use summary::StudySummary;

#[derive(Subcommand)]
pub(crate) enum Study {
    /// Sum up a study's table: spread, reasons, where the spread comes from; plots and a report
    Summary(StudySummary),
}
