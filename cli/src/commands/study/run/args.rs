//! What `eminentia study run` takes.

use std::path::PathBuf;

use clap::Args;
use study_run::Part;

use crate::commands::study::threads::threads;

#[derive(Args)]
pub(crate) struct StudyRun {
    /// Study file (RON); `-` is standard input
    #[arg(value_name = "STUDY")]
    pub(crate) study: PathBuf,
    /// The table: .parquet or .csv, or `-` for CSV on standard output [default: beside the study and named
    /// for it, .parquet]
    #[arg(long, value_name = "FILE")]
    pub(crate) out: Option<PathBuf>,
    /// Go on with an unfinished run of the same study, or begin where there is none; the bytes come out
    /// as of one that was never stopped
    #[arg(long, conflicts_with = "overwrite")]
    pub(crate) resume: bool,
    /// Compute anew what is already there; an old table stays until the new one is whole
    #[arg(long)]
    pub(crate) overwrite: bool,
    /// Run one of several parts of about as many rows each, as 3/8; its file's name says which. Parts one
    /// after the other are the whole table's rows
    #[arg(long, value_name = "I/N", default_value_t = Part::WHOLE, hide_default_value = true)]
    pub(crate) part: Part,
    /// Number of threads [default: one for each processor]
    #[arg(long, value_name = "N", value_parser = threads(), allow_negative_numbers = true)]
    pub(crate) threads: Option<u16>,
}
