//! Which format a file is in, by what stands in it.

use super::words::without_mark;
use super::{obj, stl};

/// What a look at the first bytes tells. Which form a PLY file is in stands in its header.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Looks {
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
pub(super) fn look(bytes: &[u8], name: &str) -> Looks {
    if bytes.starts_with(b"ply\n") || bytes.starts_with(b"ply\r") {
        return Looks::Ply;
    }
    // No text is taken for this: its count would be over 150 million, of 50 bytes each.
    if stl::count(bytes).is_some_and(|count| 84 + 50 * count == bytes.len() as u64) {
        return Looks::StlBinary;
    }
    let start = &bytes[..bytes.len().min(LOOK)];
    if !start.contains(&0) {
        let text = without_mark(start).trim_ascii_start();
        if text.get(..5).is_some_and(|word| word.eq_ignore_ascii_case(b"solid")) {
            return Looks::StlAscii;
        }
        if obj::begins_as_obj(text) {
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
