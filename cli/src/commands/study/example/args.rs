//! What `eminentia study example` takes.

use std::path::PathBuf;

use clap::Args;

#[derive(Args)]
pub(crate) struct StudyExample {
    /// Name of the study, as the list has it
    #[arg(value_name = "NAME")]
    pub(crate) name: Option<String>,
    /// Write to this file instead of standard output
    #[arg(long, value_name = "FILE")]
    pub(crate) out: Option<PathBuf>,
}
