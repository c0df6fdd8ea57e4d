//! A tracing read and examined: what `tracing` and `sheet` work on.

use std::path::Path;

use sim_core::tracing::{ExamineError, examine};
use sim_core::units::Length;

use crate::args::PhotoOptions;
use crate::failure::{Failure, Outcome, Status};
use crate::tracing_file::{self, Given};
use report::tracing::TracingReport;

/// Why a tracing is of no use.
#[derive(Debug, thiserror::Error)]
pub(crate) enum TracingFailure {
    /// What it is about is the tracing, or the option that gave the radius.
    #[error("{about}: {error}")]
    Unexamined { about: String, error: ExamineError },
    /// It was examined and is not accepted.
    #[error("{0}")]
    Repeat(String),
}

impl Failure for TracingFailure {
    fn status(&self) -> Status {
        match self {
            Self::Unexamined { .. } => Status::Wrong,
            Self::Repeat(_) => Status::Failed,
        }
    }
}

/// Reads a tracing and examines it, its legs met at a radius about the apex, which an option gave.
pub(crate) fn examined(
    path: &Path,
    photo: &PhotoOptions,
    (option, radius): (&str, Length),
) -> Outcome<TracingReport> {
    let name = tracing_file::name(path);
    let Given { recorded, photo } = tracing_file::read(path, photo)?;
    let findings = examine(&recorded, radius).map_err(|error| {
        let about = if matches!(error, ExamineError::Radius { .. }) { option } else { &name };
        TracingFailure::Unexamined { about: about.to_owned(), error }
    })?;
    Ok(TracingReport { name, recorded, photo, findings, over: None })
}

/// Fails if the tracing has to be repeated.
pub(crate) fn accepted(report: &TracingReport) -> Result<(), TracingFailure> {
    if report.findings.objections().is_empty() {
        return Ok(());
    }
    Err(TracingFailure::Repeat(report.verdict()))
}
