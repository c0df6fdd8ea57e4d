//! Text from a file on a page: no longer than its place.

/// A sentence of what to doubt.
pub(super) const LONGEST_DOUBT: usize = 260;
/// A cusp's name.
pub(super) const LONGEST_NAME: usize = 18;

/// Text from a file made fit to print: nothing in it that is not seen, and no longer than it may be.
pub(super) fn printable(text: &str, longest: usize) -> String {
    let text = words::quoted::escaped(text);
    let mut printed: String = text.chars().take(longest).collect();
    if text.chars().count() > longest {
        printed.push('…');
    }
    printed
}
