//! `eminentia sheet`: one page to hand to the laboratory or to an examiner.

use std::path::Path;

use files::Source;
use sim_core::tracing::USUAL_RADIUS;

use super::args::Sheet as Args;
use super::failure::SheetFailure;
use crate::case;
use crate::examined::{accepted, examined};
use crate::failure::{Outcome, Unexpected};
use crate::output::Output;
use report::sheet::{Kind, Sheet};

/// Writes the sheet. A centric record that is not confirmed, and a tracing that has to be repeated,
/// stand on it as such; then the command fails.
pub(crate) fn perform(args: &Args) -> Outcome {
    let kind =
        kind(&args.out).ok_or_else(|| SheetFailure::NoSuchSheet { name: args.out.display().to_string() })?;
    let source = Source::named(&args.case);
    let worked = case::read(&source)?;
    let tracing =
        args.tracing.as_deref().map(|path| examined(path, &args.photo, USUAL_RADIUS)).transpose()?;
    let mut inputs: Vec<(&Path, &str)> = source.path().map(|path| (path, "case")).into_iter().collect();
    inputs.extend(args.tracing.as_deref().map(|path| (path, "tracing")));
    let output = Output::open_for("--out", &args.out, &inputs)?;
    let sheet = Sheet::of(&worked, tracing.as_ref());
    let bytes = kind.bytes(&sheet, args.paper.into()).map_err(|error| Unexpected(error.to_string()))?;
    output.write(false, |out| out.write_all(&bytes))?;
    case::confirmed(&worked)?;
    tracing.as_ref().map_or(Ok(()), accepted)?;
    Ok(())
}

/// The kind of sheet that a file's ending names.
fn kind(path: &Path) -> Option<Kind> {
    Kind::of_ending(&path.extension()?.to_string_lossy())
}
