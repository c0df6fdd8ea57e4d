//! In which format a surface is written, by the file that an option names.

use std::path::Path;

use files::cast::WrittenFormat;

use crate::reader_failure::Failure;

/// The format that a file's ending names; `option` is where the file was given.
pub(crate) fn format(option: &'static str, path: &Path) -> Result<WrittenFormat, Failure> {
    WrittenFormat::of(path)
        .ok_or_else(|| Failure::NoSuchSurfaceFile { option, name: path.display().to_string() })
}

/// As [`format`], of the formats that hold colours.
pub(crate) fn coloured(option: &'static str, path: &Path) -> Result<WrittenFormat, Failure> {
    WrittenFormat::of(path)
        .filter(|format| format.has_colours())
        .ok_or_else(|| Failure::NoSuchColouredFile { option, name: path.display().to_string() })
}
