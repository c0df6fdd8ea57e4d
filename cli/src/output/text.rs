//! Text from files, made fit to print.

use unicode_width::UnicodeWidthStr as _;

/// Longest that a name is printed.
const LONGEST_NAME: usize = 28;

/// A name from a file made fit to print: no control characters, which could steer the terminal,
/// and not longer than a column can bear.
pub(crate) fn printable(name: &str) -> String {
    let mut text = String::new();
    for letter in name.chars() {
        text.push(if letter.is_control() { '\u{fffd}' } else { letter });
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
    line.chars().take(1000).map(|letter| if letter.is_control() { '\u{fffd}' } else { letter }).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_name_cannot_steer_the_terminal_nor_burst_the_table() {
        assert_eq!(printable("a\u{1b}[31mb"), "a\u{fffd}[31mb");
        assert!(printable(&"m".repeat(500)).width() <= LONGEST_NAME + 1);
    }
}
