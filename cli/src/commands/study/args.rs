//! What `eminentia study` takes.

use clap::Subcommand;

use super::plan::StudyPlan;
use super::run::StudyRun;
use super::summary::StudySummary;

#[derive(Subcommand)]
pub(crate) enum Study {
    /// Run a study: every row of its plan into a table, Parquet or CSV
    Run(StudyRun),
    /// Tell what a run will take: how many rows and columns, how long, how large; nothing is run but a
    /// second's worth of rows
    Plan(StudyPlan),
    /// Sum up a study's table: spread, reasons, where the spread comes from; plots and a report
    Summary(StudySummary),
}
