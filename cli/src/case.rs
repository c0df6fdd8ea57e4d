//! A case read and worked through.

use report::case::WorkedCase;
use sim_core::record::program::ProgramError;
use sim_core::text;

use crate::input::Source;
use crate::reader_failure::Failure;

/// What becomes of a case that cannot be worked through: where in its file the fault is.
#[derive(Debug, thiserror::Error)]
#[error("{name}:{line}:{column}: field {error}")]
pub(crate) struct Unworkable {
    name: String,
    line: usize,
    column: usize,
    error: ProgramError,
}

/// Reads a case and works it through.
pub(crate) fn read(source: &Source) -> Result<WorkedCase, Failure> {
    let (case, text) = source.read_case()?;
    let name = source.name();
    WorkedCase::of(case, name.clone(), text.clone()).map_err(|error| {
        let (line, column) = text::place_of(error.field(), &text);
        Failure::Unworkable(Unworkable { name, line, column, error })
    })
}

/// Fails if the centric record is not confirmed.
pub(crate) fn confirmed(worked: &WorkedCase) -> Result<(), Failure> {
    if worked.is_refuted() { Err(Failure::Unconfirmed { name: worked.name.clone() }) } else { Ok(()) }
}
