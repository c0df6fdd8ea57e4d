//! `eminentia study`: one file a command.

mod plan;
mod run;
mod summary;

use std::path::Path;

use files::{Loaded, Source};

use crate::command_line::Study;
use crate::failure::Failure;
use crate::say;

/// Does what was asked.
pub(super) fn perform(asked: &Study) -> Result<(), Failure> {
    match asked {
        Study::Run(asked) => run::perform(asked),
        Study::Plan(asked) => plan::perform(asked),
        Study::Summary(asked) => summary::perform(asked),
    }
}

/// Reads a study with all that it names; what is allowed but hardly meant is said on standard error.
fn loaded(path: &Path) -> Result<Loaded, Failure> {
    let loaded = files::load(&Source::named(path))?;
    for note in loaded.notes.iter().chain(loaded.prepared.warnings()) {
        say::warning(note);
    }
    Ok(loaded)
}
