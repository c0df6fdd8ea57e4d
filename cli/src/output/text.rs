//! Text from files, made fit to print.

use unicode_width::UnicodeWidthStr as _;
use words::quoted::escaped;

/// Longest that a name is printed.
const LONGEST_NAME: usize = 28;
/// Most letters of a line.
const LONGEST_LINE: usize = 1000;

/// A name from a file made fit to print: nothing in it that steers the terminal, and not longer than a column can
/// bear.
pub(crate) fn printable(name: &str) -> String {
    let mut text = String::new();
    for letter in escaped(name).chars() {
        text.push(letter);
        if text.width() > LONGEST_NAME {
            text.pop();
            text.push('…');
            break;
        }
    }
    text
}

/// A line of text from a file made fit to print.
pub(crate) fn printable_line(line: &str) -> String {
    escaped(line).chars().take(LONGEST_LINE).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_name_cannot_steer_the_terminal_nor_burst_the_table() {
        assert_eq!(printable("a\u{1b}[31mb"), r"a\u{1b}[31mb");
        assert!(printable(&"m".repeat(500)).width() <= LONGEST_NAME + 1);
        assert!(printable(&"\u{202e}".repeat(500)).width() <= LONGEST_NAME + 1);
        assert_eq!(printable_line("one\ntwo"), r"one\ntwo");
    }
}
