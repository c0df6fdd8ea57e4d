//! `eminentia study`: one file a command.

mod plan;
mod run;
mod summary;

use std::io;
use std::path::Path;

use study_run::Loaded;
use study_run::input::{Wanted, text_of};

use crate::command_line::Study;
use crate::failure::Failure;
use crate::input::Source;
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
    let source = Source::new(Some(path));
    let loaded = match source.path() {
        Some(path) => study_run::load(path)?,
        None => {
            let text = text_of(io::stdin().lock(), &source.name(), Wanted::STUDY)
                .map_err(study_run::LoadError::Study)?;
            study_run::from_text(&text, &source.name(), source.folder())?
        }
    };
    let warnings = loaded.prepared.warnings().iter().map(words::verdict::study::warning);
    for note in loaded.notes.iter().cloned().chain(warnings) {
        say::warning(&note);
    }
    Ok(loaded)
}
