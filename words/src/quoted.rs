//! What was written by others, made fit to be said: in a message, in a table, on a page, in a cell.
//!
//! A title or a name may hold anything. Control characters steer a terminal, marks of direction turn a line round,
//! the end of a line begins another message, and ten thousand letters hide the one that matters. All of these are
//! shown as a scene file writes them, `\u{1b}` and `\n`, and what is long is cut, with the number of letters it has.

use std::borrow::Cow;
use std::path::Path;

use crate::number::in_threes;

/// Most letters of a value in a message.
const MOST_OF_A_VALUE: usize = 80;
/// Most letters of one word in a message, or of what stands in one pair of quotes: a path may be long.
const MOST_OF_A_WORD: usize = 300;
/// Letters that stay at the beginning and at the end of a word that is cut.
const KEPT_OF_A_WORD: (usize, usize) = (80, 40);
/// Most letters of a message.
const MOST_OF_A_MESSAGE: usize = 4000;
/// Letters that stay at the beginning and at the end of a message that is cut.
const KEPT_OF_A_MESSAGE: (usize, usize) = (1500, 1500);
/// What opens a quotation in our messages, and what closes it.
const QUOTES: [(char, char); 4] = [('`', '`'), ('“', '”'), ('"', '"'), ('\'', '\'')];

/// Whether a letter does something else than to stand there: it steers a terminal, ends a line, turns the direction
/// of the letters about it, or is not seen.
#[must_use]
pub fn steers(letter: char) -> bool {
    letter.is_control()
        || matches!(letter,
            '\u{61c}' | '\u{200b}' | '\u{200e}' | '\u{200f}' | '\u{2028}'..='\u{202e}' | '\u{2060}'..='\u{206f}'
            | '\u{feff}' | '\u{fff9}'..='\u{fffb}' | '\u{e0000}'..='\u{e007f}')
}

/// A text on one line, with everything in it seen.
///
/// ```
/// assert_eq!(words::quoted::escaped("36\u{1b}[2J\u{202e}\n"), r"36\u{1b}[2J\u{202e}\n");
/// assert_eq!(words::quoted::escaped("Größe 漢字"), "Größe 漢字");
/// ```
#[must_use]
pub fn escaped(text: &str) -> Cow<'_, str> {
    seen(text, |_| false)
}

/// A text of several lines, with everything in it seen but the ends of lines and tabulators.
#[must_use]
pub fn lines(text: &str) -> Cow<'_, str> {
    seen(text, |letter| matches!(letter, '\n' | '\t'))
}

fn seen(text: &str, stays: impl Fn(char) -> bool) -> Cow<'_, str> {
    if !text.chars().any(|letter| steers(letter) && !stays(letter)) {
        return Cow::Borrowed(text);
    }
    let mut shown = String::with_capacity(text.len() + 8);
    for letter in text.chars() {
        if steers(letter) && !stays(letter) {
            shown.extend(letter.escape_default());
        } else {
            shown.push(letter);
        }
    }
    Cow::Owned(shown)
}

/// A table with its colours: of what steers, only the ends of lines, tabulators and the sequences that set a style
/// (`ESC [ … m`) stay.
#[must_use]
pub fn styled(table: &str) -> Cow<'_, str> {
    if !table.chars().any(|letter| steers(letter) && letter != '\n') {
        return Cow::Borrowed(table);
    }
    let mut shown = String::with_capacity(table.len());
    for (number, piece) in table.split('\u{1b}').enumerate() {
        let after_escape = number > 0;
        let style = piece.strip_prefix('[').filter(|_| after_escape).and_then(|rest| {
            rest.trim_start_matches(|letter: char| letter.is_ascii_digit() || letter == ';').strip_prefix('m')
        });
        match style {
            Some(behind) => {
                shown.push('\u{1b}');
                shown.push_str(&piece[..piece.len() - behind.len()]);
                shown.push_str(&lines(behind));
            }
            None => {
                if after_escape {
                    shown.extend('\u{1b}'.escape_default());
                }
                shown.push_str(&lines(piece));
            }
        }
    }
    Cow::Owned(shown)
}

/// A value as a message quotes it: on one line, seen, and of a bearable length.
///
/// ```
/// use words::quoted::value;
///
/// assert_eq!(value("horizontal\n"), r"horizontal\n");
/// assert!(value(&"a".repeat(10_240)).ends_with("aaa… (10,240 characters)"));
/// ```
#[must_use]
pub fn value(text: &str) -> String {
    let letters = text.chars().count();
    if letters <= MOST_OF_A_VALUE {
        return escaped(text).into_owned();
    }
    let beginning: String = text.chars().take(MOST_OF_A_VALUE).collect();
    format!("{}… ({} characters)", escaped(&beginning), in_threes(letters as u64))
}

/// A file as a message names it: on one line, seen, bytes that are no UTF-8 as `\xe9`.
///
/// ```
/// assert_eq!(words::quoted::path(std::path::Path::new("a\tb/scene.ron")), r"a\tb/scene.ron");
/// ```
#[must_use]
pub fn path(path: &Path) -> String {
    let mut shown = String::new();
    for chunk in path.as_os_str().as_encoded_bytes().utf8_chunks() {
        shown.push_str(&escaped(chunk.valid()));
        for byte in chunk.invalid() {
            shown.extend(byte.escape_ascii().map(char::from));
        }
    }
    shown
}

/// A message that may quote anything: on one line, seen, its overlong words and quotations cut in the middle, and so
/// the whole. The number that the system has for a fault says nothing that its words do not.
///
/// ```
/// use words::quoted::message;
///
/// assert_eq!(message("a.ron: Permission denied (os error 13)"), "a.ron: Permission denied");
/// let said = message(&format!("`{}` is no setting", "b".repeat(10_240)));
/// assert_eq!(said, format!("`{}… (10,240 characters) …{}` is no setting", "b".repeat(80), "b".repeat(40)));
/// ```
#[must_use]
pub fn message(text: &str) -> String {
    let text = without_numbers(&escaped(text));
    let text = if text.chars().count() > MOST_OF_A_WORD { with_short_words(&text) } else { text };
    cut(&text, MOST_OF_A_MESSAGE, KEPT_OF_A_MESSAGE).into_owned()
}

/// Without ` (os error 13)` and its like, which the standard library puts behind what the system says.
fn without_numbers(text: &str) -> String {
    const BEFORE: &str = " (os error ";
    let mut parts = text.split(BEFORE);
    let mut shown = parts.next().unwrap_or_default().to_owned();
    for part in parts {
        match part.split_once(')') {
            Some((number, rest)) if number.parse::<i32>().is_ok() => shown.push_str(rest),
            _ => shown.extend([BEFORE, part]),
        }
    }
    shown
}

/// With every overlong word or quotation cut.
fn with_short_words(text: &str) -> String {
    let mut shown = String::new();
    let mut rest = text;
    while let Some(first) = rest.chars().next() {
        let inside = &rest[first.len_utf8()..];
        let closing = QUOTES.iter().find(|(opening, _)| *opening == first).map(|(_, closing)| *closing);
        if let Some((length, closing)) = closing.and_then(|closing| Some((inside.find(closing)?, closing))) {
            shown.push(first);
            shown.push_str(&cut(&inside[..length], MOST_OF_A_WORD, KEPT_OF_A_WORD));
            shown.push(closing);
            rest = &inside[length + closing.len_utf8()..];
            continue;
        }
        let ends =
            |letter: char| letter.is_whitespace() || QUOTES.iter().any(|(opening, _)| *opening == letter);
        // One letter at the least, so that it goes on.
        let length = inside.find(ends).unwrap_or(inside.len()) + first.len_utf8();
        shown.push_str(&cut(&rest[..length], MOST_OF_A_WORD, KEPT_OF_A_WORD));
        rest = &rest[length..];
    }
    shown
}

/// Cut in the middle where it is too long.
fn cut(text: &str, most: usize, (first, last): (usize, usize)) -> Cow<'_, str> {
    let letters = text.chars().count();
    if letters <= most {
        return Cow::Borrowed(text);
    }
    let beginning: String = text.chars().take(first).collect();
    let end: String = text.chars().skip(letters - last).collect();
    Cow::Owned(format!("{beginning}… ({} characters) …{end}", in_threes(letters as u64)))
}

/// A word as a cell of CSV. Spreadsheets take what begins with `=`, `+`, `-` or `@` for a formula and work it out: it
/// is given an apostrophe in front, which they take away again. Numbers stay as they are.
///
/// ```
/// use words::quoted::cell;
///
/// assert_eq!(cell("=HYPERLINK(1)"), "'=HYPERLINK(1)");
/// assert_eq!(cell("-1.5e-3"), "-1.5e-3");
/// assert_eq!(cell("36 mesiobuccal"), "36 mesiobuccal");
/// ```
#[must_use]
pub fn cell(word: &str) -> Cow<'_, str> {
    let shown = escaped(word);
    let formula = shown.trim_start().starts_with(['=', '+', '-', '@', '＝', '＋', '－', '＠']);
    if formula && shown.trim().parse::<f64>().is_err() { Cow::Owned(format!("'{shown}")) } else { shown }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    /// Letters of which every kind comes up.
    fn anything() -> impl Strategy<Value = String> {
        let odd = prop::sample::select(vec![
            '\u{1b}', '[', 'm', '3', ';', '\n', '\r', '\t', '\u{7f}', '\u{9b}', '\u{202e}', '\u{2066}',
            '\u{feff}', '"', '`', '=', ' ', '漢',
        ]);
        prop::collection::vec(prop_oneof![odd, any::<char>()], 0..600).prop_map(String::from_iter)
    }

    proptest! {
        #[test]
        fn nothing_that_is_said_steers_anything(text in anything()) {
            for said in [escaped(&text).into_owned(), value(&text), message(&text), path(Path::new(&text)), cell(&text).into_owned()] {
                prop_assert!(!said.chars().any(steers), "{said:?}");
            }
            prop_assert!(!lines(&text).chars().any(|letter| steers(letter) && !matches!(letter, '\n' | '\t')));
            prop_assert!(value(&text).chars().count() <= 10 * MOST_OF_A_VALUE + 30);
        }

        #[test]
        fn of_a_table_only_lines_and_styles_stay(text in anything()) {
            let shown = styled(&text).into_owned();
            let mut rest = shown.as_str();
            while let Some(at) = rest.find('\u{1b}') {
                let behind = rest[at + 1..].strip_prefix('[').map(|rest| rest.trim_start_matches(|l: char| l.is_ascii_digit() || l == ';'));
                prop_assert!(behind.is_some_and(|behind| behind.starts_with('m')), "{shown:?}");
                rest = &rest[at + 1..];
            }
            let others = |letter: &char| steers(*letter) && !matches!(letter, '\n' | '\t' | '\u{1b}');
            prop_assert_eq!(shown.chars().find(others), None);
        }

        #[test]
        fn no_cell_is_a_formula(text in anything()) {
            let cell = cell(&text);
            let first = cell.trim_start().chars().next();
            prop_assert!(!matches!(first, Some('=' | '+' | '-' | '@')) || cell.trim().parse::<f64>().is_ok());
        }
    }

    #[test]
    fn an_ordinary_message_is_left_alone() {
        let said =
            "scenes/thirty_degree.ron:12:5: field cusps[3].name: “Höcker” is none; allowed are `a`, `b`";
        assert_eq!(message(said), said);
        let long = format!("the cusps are {}", "36 mesiobuccal, ".repeat(60));
        assert_eq!(message(&long), long, "many short words are no overlong one");
    }

    #[test]
    fn a_message_of_any_length_is_cut() {
        let said = message(&"word ".repeat(10_000));
        assert!(said.chars().count() < 3100, "{}", said.len());
        assert!(said.contains("… (50,000 characters) …"), "{said}");
        let spaced = message(&format!("`{}` is not there", "a b ".repeat(500)));
        assert!(spaced.contains("(2,000 characters)") && spaced.ends_with("` is not there"), "{spaced}");
    }

    #[cfg(unix)]
    #[test]
    fn a_name_that_is_not_utf_8_is_shown_by_its_bytes() {
        use std::ffi::OsStr;
        use std::os::unix::ffi::OsStrExt as _;
        assert_eq!(path(Path::new(OsStr::from_bytes(b"caf\xe9\x1b.ron"))), r"caf\xe9\u{1b}.ron");
    }
}
