//! What `eminentia study plan` takes.

use std::path::PathBuf;

use clap::Args;
use study_run::Part;

use crate::args::ReportWithoutCsvArgs;
use crate::commands::study::threads::threads;

#[derive(Args)]
pub(crate) struct StudyPlan {
    /// Study file (RON); `-` is standard input
    #[arg(value_name = "STUDY")]
    pub(crate) study: PathBuf,
    /// Estimate one of several parts, as in 3/8
    #[arg(long, value_name = "I/N", default_value_t = Part::WHOLE, hide_default_value = true)]
    pub(crate) part: Part,
    /// Number of threads [default: one for each processor]
    #[arg(long, value_name = "N", value_parser = threads(), allow_negative_numbers = true)]
    pub(crate) threads: Option<u16>,
    #[command(flatten)]
    pub(crate) report: ReportWithoutCsvArgs,
}
