//! A case read and worked through.

use files::{Source, TextError};
use report::case::WorkedCase;
use sim_core::record::Case;
use sim_core::record::program::ProgramError;
use sim_core::text;

use crate::failure::{Failure, Status};

/// Why a case has no settings.
#[derive(Debug, thiserror::Error)]
pub(crate) enum CaseFailure {
    #[error(transparent)]
    Text(#[from] TextError),
    /// It cannot be worked through: where in its file the fault is.
    #[error("{name}:{line}:{column}: field {error}")]
    Unworkable { name: String, line: usize, column: usize, error: ProgramError },
    /// What was read has been written, without the settings.
    #[error("{name}: the centric record is not confirmed; no settings are given, take the record again")]
    Unconfirmed { name: String },
}

impl Failure for CaseFailure {
    fn status(&self) -> Status {
        match self {
            Self::Text(_) | Self::Unworkable { .. } => Status::Wrong,
            Self::Unconfirmed { .. } => Status::Failed,
        }
    }
}

/// Reads a case and works it through.
pub(crate) fn read(source: &Source) -> Result<WorkedCase, CaseFailure> {
    let text = source.text::<Case>()?;
    let name = source.name();
    worked(files::from_text(&text, &name)?, name, &text)
}

/// Works a case through that was read from this text.
pub(crate) fn worked(case: Case, name: String, text: &str) -> Result<WorkedCase, CaseFailure> {
    WorkedCase::of(case, name.clone(), text.to_owned()).map_err(|error| {
        let (line, column) = text::place_of(error.field(), text.trim_start_matches('\u{feff}'));
        CaseFailure::Unworkable { name, line, column, error }
    })
}

/// Fails if the centric record is not confirmed.
pub(crate) fn confirmed(worked: &WorkedCase) -> Result<(), CaseFailure> {
    if worked.is_refuted() { Err(CaseFailure::Unconfirmed { name: worked.name.clone() }) } else { Ok(()) }
}
