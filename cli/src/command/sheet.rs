//! `eminentia sheet`: one page to hand to the laboratory or to an examiner.

use std::path::Path;

use sim_core::tracing::USUAL_RADIUS;
use sim_core::tracing::examine;

use crate::case;
use crate::command_line::{PhotoOptions, Sheet as Asked};
use crate::failure::Failure;
use crate::input::Source;
use crate::output::Output;
use crate::tracing_file::{self, Given};
use report::sheet::{Kind, Sheet};
use report::tracing::TracingReport;

/// Writes the sheet. A centric record that is not confirmed, and a tracing that has to be repeated,
/// stand on it as such; then the command fails.
pub(super) fn perform(asked: &Asked) -> Result<(), Failure> {
    let kind =
        kind(&asked.out).ok_or_else(|| Failure::NoSuchSheet { name: asked.out.display().to_string() })?;
    let source = Source::new(Some(&asked.case));
    let worked = case::read(&source)?;
    let tracing = asked.tracing.as_deref().map(|path| examined(path, &asked.photo)).transpose()?;
    let mut inputs: Vec<(&Path, &str)> = source.path().map(|path| (path, "case")).into_iter().collect();
    inputs.extend(asked.tracing.as_deref().map(|path| (path, "tracing")));
    let output = Output::open_for("--out", &asked.out, &inputs)?;
    let bytes = kind
        .bytes(&Sheet::of(&worked, tracing.as_ref()), asked.paper.into())
        .map_err(|error| Failure::Unexpected(error.to_string()))?;
    output.write(false, |out| out.write_all(&bytes))?;
    case::confirmed(&worked)?;
    match tracing {
        Some(report) if !report.findings.objections().is_empty() => Err(Failure::Repeat(report.verdict())),
        _ => Ok(()),
    }
}

/// The kind of sheet that a file's ending names.
fn kind(path: &Path) -> Option<Kind> {
    Kind::of_ending(&path.extension()?.to_string_lossy())
}

fn examined(path: &Path, photo: &PhotoOptions) -> Result<TracingReport, Failure> {
    let name = tracing_file::name(path);
    let Given { recorded, photo } = tracing_file::read(path, photo)?;
    let findings =
        examine(&recorded, USUAL_RADIUS).map_err(|error| Failure::NoTracing { name: name.clone(), error })?;
    Ok(TracingReport { name, recorded, photo, findings, over: None })
}
