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
    /// Continue an unfinished run of the same study, or begin one; the file comes out byte for byte as if
    /// the run had never been stopped
    #[arg(long, conflicts_with = "overwrite")]
    pub(crate) resume: bool,
    /// Compute an existing table again; the old one stays until the new one is complete
    #[arg(long)]
    pub(crate) overwrite: bool,
    /// Run one of several parts of about equal size, as in 3/8; the name of its file says which. The parts
    /// in their order hold the rows of the whole table
    #[arg(long, value_name = "I/N", default_value_t = Part::WHOLE, hide_default_value = true)]
    pub(crate) part: Part,
    /// Run though the table seems not to fit on its disk
    #[arg(long)]
    pub(crate) ignore_free_space: bool,
    /// Number of threads [default: one for each processor]
    #[arg(long, value_name = "N", value_parser = threads(), allow_negative_numbers = true)]
    pub(crate) threads: Option<u16>,
}
