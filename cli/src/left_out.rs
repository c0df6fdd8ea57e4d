//! What this build goes without, and how to get it.

use crate::failure::{Failure, Status};

/// Something that was asked for and is not in this build.
#[derive(Debug, thiserror::Error)]
#[error(
    "{place}: this program was built without {what}; `cargo install --path cli` builds it with, and so does `cargo run \
     --release` without --no-default-features"
)]
pub(crate) struct LeftOut {
    place: String,
    what: &'static str,
}

impl Failure for LeftOut {
    fn status(&self) -> Status {
        Status::Wrong
    }
}

impl LeftOut {
    /// Fails where a file is to be written that this build does not write: PDF and PNG.
    pub(crate) fn unless_drawn(option: &str, path: &std::path::Path, what: &'static str) -> Result<(), Self> {
        if cfg!(feature = "paper") {
            return Ok(());
        }
        Err(Self { place: format!("{option} {}", words::quoted::path(path)), what })
    }

    #[cfg(not(feature = "studies"))]
    pub(crate) fn studies() -> Self {
        Self { place: "eminentia study".to_owned(), what: "studies" }
    }
}

/// Whatever is typed after a command that is left out.
#[cfg(not(feature = "studies"))]
#[derive(clap::Args)]
pub(crate) struct Anything {
    #[arg(trailing_var_arg = true, allow_hyphen_values = true, hide = true)]
    _words: Vec<std::ffi::OsString>,
}
