//! A study with all that it names.

use std::io;
use std::path::Path;

use study_run::Loaded;
use study_run::input::{Wanted, text_of};

use crate::failure::Outcome;
use crate::input::Source;
use crate::say;

/// Reads a study; what is allowed but hardly meant is said on standard error.
pub(super) fn loaded(path: &Path) -> Outcome<Loaded> {
    let source = Source::new(Some(path));
    let loaded = match source.path() {
        Some(path) => study_run::load(path)?,
        None => {
            let text = text_of(io::stdin().lock(), &source.name(), Wanted::STUDY)
                .map_err(study_run::LoadError::Study)?;
            study_run::from_text(&text, &source.name(), source.folder())?
        }
    };
    for note in loaded.notes.iter().chain(loaded.prepared.warnings()) {
        say::warning(note);
    }
    Ok(loaded)
}
