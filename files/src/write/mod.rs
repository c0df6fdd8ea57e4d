//! From a surface to a file.
//!
//! Own code: the libraries write neither a word of where a file comes from nor tooth groups, and need
//! every vertex as a map of names.

mod obj;
mod ply;
mod stl;

pub use obj::write_obj;
pub use ply::write_ply;
pub use stl::write_stl_binary;

/// What every file says of itself.
const ORIGIN: &str = "written by eminentia, for teaching and research";

/// A comment's lines with nothing in them that could end a line or be no text.
fn lines(comment: &str) -> impl Iterator<Item = String> + '_ {
    comment
        .lines()
        .map(|line| line.chars().map(|letter| if letter.is_control() { ' ' } else { letter }).collect())
        .filter(|line: &String| !line.trim().is_empty())
}
