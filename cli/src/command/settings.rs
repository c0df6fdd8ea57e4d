//! `eminentia settings`: the one list of what can be set.

use crate::command_line::Report;
use crate::failure::Failure;
use crate::output::{NO_INPUTS, Output};

/// Lists every setting.
pub(super) fn perform(report: &Report) -> Result<(), Failure> {
    let output = Output::open(report.out.as_deref(), NO_INPUTS)?;
    output.write(report.format.is_coloured(), |out| report.format.format().settings(out))?;
    Ok(())
}
