//! From a surface to a file.
//!
//! Own code: the libraries write neither a word of where a file comes from nor tooth groups, and need
//! every vertex as a map of names.

mod comment;
mod obj;
mod ply;
mod stl;

pub use obj::write_obj;
pub use ply::write_ply;
pub use stl::write_stl_binary;

use std::io::{self, Write};
use std::path::Path;

use sim_core::cast::Surface;

use super::format::PlyForm;

/// The formats that surfaces are written in.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum WrittenFormat {
    /// Binary STL.
    Stl,
    /// Binary little-endian PLY.
    Ply,
    /// OBJ.
    Obj,
}

impl WrittenFormat {
    /// The format that a file's ending names.
    #[must_use]
    pub fn of(path: &Path) -> Option<Self> {
        let ending = path.extension()?.to_string_lossy().to_ascii_lowercase();
        match ending.as_str() {
            "stl" => Some(Self::Stl),
            "ply" => Some(Self::Ply),
            "obj" => Some(Self::Obj),
            _ => None,
        }
    }

    /// Whether it holds colours.
    #[must_use]
    pub const fn has_colours(self) -> bool {
        matches!(self, Self::Ply | Self::Obj)
    }

    /// Writes a surface with a comment on what it is.
    ///
    /// # Errors
    /// What the writer says.
    pub fn write(self, surface: &Surface, comment: &str, out: &mut dyn Write) -> io::Result<()> {
        match self {
            Self::Stl => write_stl_binary(surface, comment, out),
            Self::Ply => write_ply(surface, PlyForm::BinaryLittleEndian, comment, out),
            Self::Obj => write_obj(surface, comment, out),
        }
    }
}
