//! What is written into a file beside its surface.

use words::quoted::steers;

/// What every file says of itself.
pub(super) const ORIGIN: &str = "written by eminentia, for teaching and research";

/// A comment's lines with nothing in them that could end a line or be no text.
pub(super) fn lines(comment: &str) -> impl Iterator<Item = String> + '_ {
    comment
        .lines()
        .map(|line| line.chars().map(|letter| if steers(letter) { ' ' } else { letter }).collect())
        .filter(|line: &String| !line.trim().is_empty())
}
