//! `eminentia study published`: the distributions from the literature that a study can name.

use super::report::PublishedReport;
use crate::args::ReportArgs;
use crate::failure::Outcome;
use crate::output::{NO_INPUTS, Output, write_report};

/// Lists every one.
pub(crate) fn perform(args: &ReportArgs) -> Outcome {
    let output = Output::open(args.out.as_deref(), NO_INPUTS)?;
    write_report(&PublishedReport, args.format, output)?;
    Ok(())
}
