//! The formats that casts come in.

use std::fmt;

/// How the numbers of a PLY file are written.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum PlyForm {
    /// As text.
    Ascii,
    /// As bytes, the least significant first.
    BinaryLittleEndian,
    /// As bytes, the most significant first.
    BinaryBigEndian,
}

/// A format that casts come in.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum CastFormat {
    /// STL, 50 bytes a triangle.
    StlBinary,
    /// STL as text.
    StlAscii,
    /// PLY.
    Ply(PlyForm),
    /// OBJ.
    Obj,
}

impl fmt::Display for CastFormat {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::StlBinary => "binary STL",
            Self::StlAscii => "ASCII STL",
            Self::Ply(PlyForm::Ascii) => "ASCII PLY",
            Self::Ply(PlyForm::BinaryLittleEndian) => "binary little-endian PLY",
            Self::Ply(PlyForm::BinaryBigEndian) => "binary big-endian PLY",
            Self::Obj => "OBJ",
        })
    }
}
