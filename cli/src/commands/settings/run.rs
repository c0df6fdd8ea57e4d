//! `eminentia settings`: the one list of what can be set.

use super::report::SettingsReport;
use crate::args::ReportArgs;
use crate::failure::Outcome;
use crate::output::{NO_INPUTS, Output, write_report};

/// Lists every setting.
pub(crate) fn perform(args: &ReportArgs) -> Outcome {
    let output = Output::open(args.out.as_deref(), NO_INPUTS)?;
    write_report(&SettingsReport, args.format, output)?;
    Ok(())
}
