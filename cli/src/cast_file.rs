//! A surface into a file, in the form that the file's ending names.

use std::io::{self, Write};
use std::path::Path;

use files::{PlyForm, write_obj, write_ply, write_stl_binary};
use sim_core::cast::Surface;

use crate::reader_failure::Failure;

/// The forms that surfaces are written in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum CastForm {
    Stl,
    Ply,
    Obj,
}

impl CastForm {
    /// The form that a file's ending names; `option` is where the file was given.
    pub(crate) fn of(option: &'static str, path: &Path) -> Result<Self, Failure> {
        let ending = path.extension().map(|ending| ending.to_string_lossy().to_ascii_lowercase());
        match ending.as_deref() {
            Some("stl") => Ok(Self::Stl),
            Some("ply") => Ok(Self::Ply),
            Some("obj") => Ok(Self::Obj),
            _ => Err(Failure::NoSuchSurfaceFile { option, name: path.display().to_string() }),
        }
    }

    /// As [`Self::of`], of the forms that hold colours.
    pub(crate) fn coloured(option: &'static str, path: &Path) -> Result<Self, Failure> {
        match Self::of(option, path) {
            Ok(form @ (Self::Ply | Self::Obj)) => Ok(form),
            _ => Err(Failure::NoSuchColouredFile { option, name: path.display().to_string() }),
        }
    }

    /// Writes a surface with a comment on what it is.
    pub(crate) fn write(self, surface: &Surface, comment: &str, out: &mut dyn Write) -> io::Result<()> {
        match self {
            Self::Stl => write_stl_binary(surface, comment, out),
            Self::Ply => write_ply(surface, PlyForm::BinaryLittleEndian, comment, out),
            Self::Obj => write_obj(surface, comment, out),
        }
    }
}
