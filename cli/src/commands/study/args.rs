//! What `eminentia study` takes.

use clap::Subcommand;

use super::from::StudyFrom;
use super::plan::StudyPlan;
use super::run::StudyRun;
use super::summary::StudySummary;

#[derive(Subcommand)]
pub(crate) enum Study {
    /// Run a study: every row of its plan into a table, Parquet or CSV
    Run(StudyRun),
    /// Estimate a run: its rows and columns, its time and its size; only a second's worth of rows is
    /// computed
    Plan(StudyPlan),
    /// Write a study of a case: the settings that its records give, with their standard errors and correlations
    From(StudyFrom),
    /// Sum up a study's table: spread, reasons, where the spread comes from; plots and a report
    Summary(StudySummary),
}
