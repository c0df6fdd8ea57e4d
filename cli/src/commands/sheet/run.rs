//! `eminentia sheet`: one page to hand to the laboratory or to an examiner.

use std::path::Path;

use sim_core::tracing::USUAL_RADIUS;

use super::args::Sheet as Args;
use super::failure::SheetFailure;
use crate::case::WorkedCase;
use crate::examined::{accepted, examined};
use crate::failure::Outcome;
use crate::input::Source;
use crate::output::Output;
use crate::sheet::{Kind, Sheet};

/// Writes the sheet. A centric record that is not confirmed, and a tracing that has to be repeated,
/// stand on it as such; then the command fails.
pub(crate) fn perform(args: &Args) -> Outcome {
    let kind = Kind::of(&args.out)
        .ok_or_else(|| SheetFailure::NoSuchSheet { name: args.out.display().to_string() })?;
    let source = Source::new(Some(&args.case));
    let worked = WorkedCase::read(&source)?;
    let tracing =
        args.tracing.as_deref().map(|path| examined(path, &args.photo, USUAL_RADIUS)).transpose()?;
    let mut inputs: Vec<(&Path, &str)> = source.path().map(|path| (path, "case")).into_iter().collect();
    inputs.extend(args.tracing.as_deref().map(|path| (path, "tracing")));
    let output = Output::open_for("--out", &args.out, &inputs)?;
    let bytes = kind.bytes(&Sheet::of(&worked, tracing.as_ref()), args.paper)?;
    output.write(false, |out| out.write_all(&bytes))?;
    worked.confirmed()?;
    tracing.as_ref().map_or(Ok(()), accepted)?;
    Ok(())
}
