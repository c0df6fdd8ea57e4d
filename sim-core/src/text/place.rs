//! Where in a text a fault stands.
//!
//! What only a whole value can tell has no span of the parser's. So the text is gone over once more, by a
//! scanner that knows strings, comments and brackets: a word in a title or in a comment is no field.

/// A name or a text in quotes.
#[derive(Debug, PartialEq, Eq)]
pub(crate) struct Word<'t> {
    /// What it says, without quotes.
    pub(crate) text: &'t str,
    /// Whether it stands in quotes.
    pub(crate) is_quoted: bool,
    /// The fields that it stands in, the outermost first. A field's own name does not stand in itself.
    pub(crate) fields: Vec<&'t str>,
    /// Of each bracket that it stands in, the outermost first, how many commas came before: its place in a
    /// list.
    pub(crate) nth: Vec<usize>,
    start: usize,
    inside: usize,
}

impl Word<'_> {
    /// Line and column, from 1.
    pub(crate) fn place(&self, text: &str) -> (usize, usize) {
        place_at(self.start, text)
    }

    /// The same of a part of what it says; of the word itself where it does not say that.
    pub(crate) fn place_of_part(&self, part: &str, text: &str) -> (usize, usize) {
        self.text.find(part).map_or_else(|| self.place(text), |at| place_at(self.inside + at, text))
    }
}

/// Line and column, from 1, of a byte.
fn place_at(byte: usize, text: &str) -> (usize, usize) {
    let before = text.get(..byte).unwrap_or_default();
    let line = before.rsplit('\n').next().unwrap_or_default();
    (before.matches('\n').count() + 1, line.chars().count() + 1)
}

/// Line and column, from 1, of a field: of the outermost of that name, and of those the first. Fields
/// around it may be given, as in `record.excursions`. A field that is not there is put at the start.
#[must_use]
pub fn place_of(field: &str, text: &str) -> (usize, usize) {
    let mut path: Vec<&str> = field.split('.').collect();
    let name = path.pop().unwrap_or_default();
    words(text)
        .iter()
        .filter(|word| !word.is_quoted && word.text == name && word.fields.ends_with(&path))
        .min_by_key(|word| word.fields.len())
        .map_or((1, 1), |word| word.place(text))
}

/// The words of a text in their order, comments passed over.
pub(crate) fn words(text: &str) -> Vec<Word<'_>> {
    let mut words: Vec<Word<'_>> = Vec::new();
    // Of each open bracket the field that it belongs to, if any, and the commas so far.
    let mut open: Vec<(Option<&str>, usize)> = Vec::new();
    // The field whose value stands here.
    let mut field: Option<&str> = None;
    let mut at = 0;
    while let Some((token, length)) = text.get(at..).and_then(token) {
        match token {
            Token::Name(name) | Token::Quoted(name) => {
                let fields = open.iter().filter_map(|(field, _)| *field).chain(field).collect();
                let nth = open.iter().map(|(_, commas)| *commas).collect();
                let is_quoted = matches!(token, Token::Quoted(_));
                let mark = text.get(at..).and_then(|rest| rest.find('"')).filter(|_| is_quoted);
                let inside = mark.map_or(at, |mark| at + mark + 1);
                words.push(Word { text: name, is_quoted, fields, nth, start: at, inside });
            }
            Token::Mark(':') => field = words.last().map(|word| word.text),
            Token::Mark(',') => {
                field = None;
                if let Some((_, commas)) = open.last_mut() {
                    *commas += 1;
                }
            }
            Token::Mark('(' | '[' | '{') => open.push((field.take(), 0)),
            Token::Mark(')' | ']' | '}') => {
                open.pop();
                field = None;
            }
            Token::Mark(_) | Token::Blank => {}
        }
        at += length;
    }
    words
}

#[derive(Clone, Copy)]
enum Token<'t> {
    Name(&'t str),
    Quoted(&'t str),
    Mark(char),
    /// White space, or a comment.
    Blank,
}

/// What a text begins with, and how many bytes that takes; `None` at its end. What is not closed goes
/// on to the end.
fn token(text: &str) -> Option<(Token<'_>, usize)> {
    let first = text.chars().next()?;
    let is_of_name = |letter: char| letter.is_alphanumeric() || letter == '_';
    if text.starts_with("//") {
        return Some((Token::Blank, text.find('\n').unwrap_or(text.len())));
    }
    if text.starts_with("/*") {
        return Some((Token::Blank, block_comment(text)));
    }
    if let Some((inside, length)) = quoted(text).or_else(|| raw(text)) {
        return Some((Token::Quoted(inside), length));
    }
    if first == '\'' {
        return Some((Token::Blank, character(text)));
    }
    if is_of_name(first) {
        let length = text.find(|letter| !is_of_name(letter)).unwrap_or(text.len());
        return Some((Token::Name(text.get(..length)?), length));
    }
    let token = if first.is_whitespace() { Token::Blank } else { Token::Mark(first) };
    Some((token, first.len_utf8()))
}

/// The length of a comment between `/*` and `*/`, which may hold others.
fn block_comment(text: &str) -> usize {
    let mut depth = 0_usize;
    let mut at = 0;
    while let Some(rest) = text.get(at..).filter(|rest| !rest.is_empty()) {
        if rest.starts_with("/*") {
            (depth, at) = (depth + 1, at + 2);
        } else if rest.starts_with("*/") {
            (depth, at) = (depth - 1, at + 2);
            if depth == 0 {
                return at;
            }
        } else {
            at += rest.chars().next().map_or(1, char::len_utf8);
        }
    }
    text.len()
}

/// What stands between quotation marks, and the length with them.
fn quoted(text: &str) -> Option<(&str, usize)> {
    let inside = text.strip_prefix('"')?;
    let mut is_escaped = false;
    let end = inside.find(|letter| {
        let ends = letter == '"' && !is_escaped;
        is_escaped = letter == '\\' && !is_escaped;
        ends
    });
    let end = end.unwrap_or(inside.len());
    Some((inside.get(..end)?, (end + 2).min(text.len())))
}

/// The same of a raw text: `r"…"`, `r#"…"#` and so on.
fn raw(text: &str) -> Option<(&str, usize)> {
    let rest = text.strip_prefix('r')?;
    let inside = rest.trim_start_matches('#');
    let hashes = rest.get(..rest.len() - inside.len())?;
    let inside = inside.strip_prefix('"')?;
    let close = format!("\"{hashes}");
    let end = inside.find(&close).unwrap_or(inside.len());
    Some((inside.get(..end)?, (2 + hashes.len() + end + close.len()).min(text.len())))
}

/// The length of a character in single quotes.
fn character(text: &str) -> usize {
    let escaped = usize::from(text.starts_with("'\\"));
    let inside = text.char_indices().skip(2 + escaped);
    inside.into_iter().find(|(_, letter)| *letter == '\'').map_or(text.len(), |(at, _)| at + 1)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_field_is_not_looked_for_in_titles_and_comments() {
        let text = "// excursions: none\n(\n    title: \"No excursions: why\", /* excursions: /* nor */ here */\n    excursions: [],\n)";
        assert_eq!(place_of("excursions", text), (4, 5));
    }

    #[test]
    fn two_slashes_in_a_text_do_not_cut_its_line() {
        let text = "(title: \"see https://a.example\", excursions: [])";
        assert_eq!(place_of("excursions", text), (1, 34));
        let text = "(title: \"a \\\" // b\", excursions: [])";
        assert_eq!(place_of("excursions", text), (1, 22));
        let text = "(title: r#\"a \" // excursions: \"#, mark: '\"', excursions: [])";
        assert_eq!(place_of("excursions", text), (1, 46));
    }

    #[test]
    fn the_outermost_field_of_a_name_is_taken_or_the_one_in_the_fields_named() {
        let text = "(\n scene: (excursions: [Opening(angle_deg: 1)]),\n record: (excursions: []),\n)";
        assert_eq!(place_of("record.excursions", text), (3, 11));
        assert_eq!(place_of("scene.excursions", text), (2, 10));
        assert_eq!(place_of("angle_deg", text), (2, 31));
        let text = "(plan: (free: [(plan: 1)]), samples: 2, \n plan: 3)";
        assert_eq!(place_of("plan", text), (1, 2));
    }

    #[test]
    fn only_a_whole_name_is_a_field_and_what_is_not_there_is_put_at_the_start() {
        let text = "(left_casts: 1, \u{e9}: 2, casts: 3)";
        assert_eq!(place_of("casts", text), (1, 23));
        assert_eq!(place_of("cast", text), (1, 1));
        for unclosed in ["(a: \"b", "(a: r#\"b\"", "(a: '", "/* a", "(a: '\\", "\"\\", "}])"] {
            assert_eq!(place_of("b", unclosed), (1, 1), "{unclosed}");
        }
    }

    #[test]
    fn words_know_their_place_in_lists_and_the_place_of_what_they_say() {
        let text =
            "(title: \"a, b\", steps: [(text: \"one\"), (with: [\"x\", \"y\"], text: \"two\n {here}\")])";
        let all = words(text);
        let said =
            |what: &str| all.iter().find(|word| word.is_quoted && word.text.contains(what)).expect(what);
        assert_eq!(said("one").nth, [1, 0, 0]);
        assert_eq!(said("y").nth, [1, 1, 0, 1]);
        assert_eq!(said("two").nth, [1, 1, 1]);
        assert_eq!(said("two").place_of_part("here", text), (2, 3));
        assert_eq!(said("two").place_of_part("elsewhere", text), said("two").place(text));
        let raw = "(text: r#\"{deep}\"#)";
        assert_eq!(words(raw)[1].place_of_part("deep", raw), (1, 12));
    }

    #[test]
    fn words_know_the_fields_that_they_stand_in() {
        let text =
            "(factors: [(setting: \"a\", values: Column(file: \"f\", column: \"a\"))], plan: FullGrid)";
        let all = words(text);
        let quoted: Vec<(&str, String)> =
            all.iter().filter(|word| word.is_quoted).map(|word| (word.text, word.fields.join("."))).collect();
        assert_eq!(quoted[0], ("a", "factors.setting".to_owned()));
        assert_eq!(quoted[2], ("a", "factors.values.column".to_owned()));
        assert_eq!(all.last().map(|word| (word.text, &word.fields[..])), Some(("FullGrid", &["plan"][..])));
    }
}
