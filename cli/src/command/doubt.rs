//! `eminentia doubt`: how far to trust a case's settings, and what that does to the teeth.

use std::path::Path;

use sim_core::doubt;

use crate::case;
use crate::command_line::{Doubt, ProgramFormat};
use crate::failure::Failure;
use crate::format::{json, table};
use crate::input::Source;
use crate::output::Output;

/// Redraws the case. One whose centric record is not confirmed has no settings to doubt, and fails.
pub(super) fn perform(asked: &Doubt) -> Result<(), Failure> {
    let source = Source::new(Some(&asked.case));
    let worked = case::read(&source)?;
    let inputs: Vec<(&Path, &str)> = source.path().map(|path| (path, "case")).into_iter().collect();
    let output = match &asked.out {
        Some(path) => Output::open_for("--out", path, &inputs)?,
        None => Output::Standard,
    };
    case::confirmed(&worked)?;
    let uncertainties = asked.uncertainties(&worked.case);
    let doubt = doubt::redraw(&worked.case, &uncertainties, asked.draws, asked.seed)
        .map_err(|error| Failure::Doubt { name: source.name(), error })?;
    let title = &worked.case.title;
    match asked.format {
        ProgramFormat::Table => output.write(true, |out| table::doubt(title, &doubt, asked.seed, out))?,
        ProgramFormat::Json => output.write(false, |out| json::doubt(title, &doubt, asked.seed, out))?,
    }
    Ok(())
}
