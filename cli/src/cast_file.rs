//! In which format a surface is written, by the file that an option names.

use std::path::Path;

use files::cast::WrittenFormat;

use crate::failure::{Failure, Status};

/// Why a surface cannot be written there.
#[derive(Debug, thiserror::Error)]
pub(crate) enum CastFileFailure {
    #[error("{option} {name}: unknown file extension; use .stl, .ply or .obj")]
    NoSuchSurfaceFile { option: &'static str, name: String },
    #[error("{option} {name}: this file extension holds no colours; use .ply or .obj")]
    NoSuchColouredFile { option: &'static str, name: String },
}

impl Failure for CastFileFailure {
    fn status(&self) -> Status {
        Status::Wrong
    }
}

/// The format that a file's ending names; `option` is where the file was given.
pub(crate) fn format(option: &'static str, path: &Path) -> Result<WrittenFormat, CastFileFailure> {
    WrittenFormat::of(path)
        .ok_or_else(|| CastFileFailure::NoSuchSurfaceFile { option, name: words::quoted::path(path) })
}

/// As [`format()`], of the formats that hold colours.
pub(crate) fn coloured(option: &'static str, path: &Path) -> Result<WrittenFormat, CastFileFailure> {
    WrittenFormat::of(path)
        .filter(|format| format.has_colours())
        .ok_or_else(|| CastFileFailure::NoSuchColouredFile { option, name: words::quoted::path(path) })
}
