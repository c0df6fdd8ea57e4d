//! A study with all that it names.

use std::path::Path;

use files::{Loaded, Source};

use crate::failure::Outcome;
use crate::say;

/// Reads a study; what is allowed but hardly meant is said on standard error.
pub(super) fn loaded(path: &Path) -> Outcome<Loaded> {
    let loaded = files::load(&Source::named(path))?;
    let warnings = loaded.prepared.warnings().iter().map(words::verdict::study::warning);
    for note in loaded.notes.iter().cloned().chain(warnings) {
        say::warning(&note);
    }
    Ok(loaded)
}
