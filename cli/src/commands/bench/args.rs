//! What `eminentia bench` takes.

use std::path::PathBuf;

use clap::Args;

use super::set_at::{SetAt, set_at};
use crate::args::ReportWithoutCsvArgs;

#[derive(Args)]
pub(crate) struct Bench {
    /// Case file (RON): the patient's records; `-` is standard input
    #[arg(value_name = "CASE")]
    pub(crate) case: PathBuf,
    /// Angles that the guides are set to, in degrees: `right=30,left=32`, and for the lateral angles
    /// `right-lateral=15,left-lateral=15`; what is not given stands as the example of a baseline has it
    #[arg(long, value_name = "GUIDE=DEGREES", value_delimiter = ',', value_parser = set_at)]
    pub(crate) set: Vec<SetAt>,
    #[command(flatten)]
    pub(crate) report: ReportWithoutCsvArgs,
}
