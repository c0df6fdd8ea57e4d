//! Which format a file is in, by what stands in it.

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

/// What a look at the first bytes tells. Which form a PLY file is in stands in its header.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Looks {
    StlBinary,
    StlAscii,
    Ply,
    Obj,
    Nothing,
}

/// How far into a file to look for what no text has.
const LOOK: usize = 1024;

/// Tells the format by content. The name decides only where the content leaves it open: binary STL has
/// nothing to know it by but a count that fits the size.
pub(crate) fn look(bytes: &[u8], name: &str) -> Looks {
    if bytes.starts_with(b"ply\n") || bytes.starts_with(b"ply\r") {
        return Looks::Ply;
    }
    // No text is taken for this: its count would be over 150 million, of 50 bytes each.
    if crate::read::stl_count(bytes).is_some_and(|count| 84 + 50 * count == bytes.len() as u64) {
        return Looks::StlBinary;
    }
    let start = &bytes[..bytes.len().min(LOOK)];
    if !start.contains(&0) {
        let text = crate::read::without_mark(start).trim_ascii_start();
        if text.get(..5).is_some_and(|word| word.eq_ignore_ascii_case(b"solid")) {
            return Looks::StlAscii;
        }
        if crate::read::begins_as_obj(text) {
            return Looks::Obj;
        }
    }
    let extension = name.rsplit_once('.').map_or("", |(_, extension)| extension);
    if extension.eq_ignore_ascii_case("stl") {
        return Looks::StlBinary;
    }
    if extension.eq_ignore_ascii_case("obj") && !start.contains(&0) {
        return Looks::Obj;
    }
    Looks::Nothing
}
