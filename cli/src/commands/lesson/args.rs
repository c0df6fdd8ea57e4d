//! What `eminentia lesson` takes.

use std::path::PathBuf;

use clap::{Args, Subcommand};

use crate::args::ReportWithoutCsvArgs;

#[derive(Subcommand)]
pub(crate) enum Lesson {
    /// Look into lessons: every fault with its line; with --answers what is right at each question
    Check(Check),
    /// List the lessons that come with the program
    List(List),
}

#[derive(Args)]
pub(crate) struct Check {
    /// Lesson files (RON), or names of lessons that come with the program; `-` is standard input
    #[arg(value_name = "FILE", required = true)]
    pub(crate) files: Vec<PathBuf>,
    /// Tell the right answer to each question, as the solver computes it
    #[arg(long)]
    pub(crate) answers: bool,
    #[command(flatten)]
    pub(crate) report: ReportWithoutCsvArgs,
}

#[derive(Args)]
pub(crate) struct List {
    #[command(flatten)]
    pub(crate) report: ReportWithoutCsvArgs,
}
