//! What `eminentia study` takes.

use clap::Subcommand;

use super::example::StudyExample;
use super::from::StudyFrom;
use super::package::StudyPackage;
use super::plan::StudyPlan;
use super::run::StudyRun;
use super::summary::StudySummary;
use crate::args::ReportArgs;

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
    Summary(Box<StudySummary>),
    /// Print a study to start from, with its scene in it; without a name, list them
    Example(StudyExample),
    /// List the published distributions that a study can name: figures, source, what each may stand for
    Published(ReportArgs),
    /// Put a study's table and the study itself into a folder that describes itself, for an archive of data
    Package(StudyPackage),
}
