//! Text as words with the lines they stand in.

use crate::cast::error::{Fault, PlacedFault};

/// Text without the mark that some programs put before UTF-8.
pub(super) fn without_mark(text: &[u8]) -> &[u8] {
    text.strip_prefix(b"\xef\xbb\xbf").unwrap_or(text)
}

/// The words of a text, parted by blanks of any kind.
pub(super) struct Words<'t> {
    rest: &'t [u8],
    /// The line of the word last given, from 1.
    pub(super) line: usize,
}

impl<'t> Words<'t> {
    pub(super) fn of(text: &'t [u8]) -> Self {
        Self { rest: text, line: 1 }
    }

    /// Passes over what is left of this line.
    pub(super) fn skip_line(&mut self) -> &'t [u8] {
        let end = self.rest.iter().position(|&byte| byte == b'\n').unwrap_or(self.rest.len());
        let (skipped, rest) = self.rest.split_at(end);
        self.rest = rest;
        skipped
    }
}

impl<'t> Iterator for Words<'t> {
    type Item = &'t [u8];

    fn next(&mut self) -> Option<&'t [u8]> {
        let start = self.rest.iter().position(|byte| !byte.is_ascii_whitespace())?;
        self.line += self.rest[..start].iter().filter(|&&byte| byte == b'\n').count();
        let rest = &self.rest[start..];
        let end = rest.iter().position(u8::is_ascii_whitespace).unwrap_or(rest.len());
        let (word, rest) = rest.split_at(end);
        self.rest = rest;
        Some(word)
    }
}

/// The number that a word is.
pub(super) fn number(word: &[u8], line: usize) -> Result<f64, PlacedFault> {
    let parsed = std::str::from_utf8(word).ok().and_then(|word| word.parse::<f64>().ok());
    match parsed {
        Some(number) if number.is_finite() => Ok(number),
        Some(number) => Err(Fault::NotFinite { found: number.to_string() }.at_line(line)),
        None => Err(Fault::unexpected(word, "a number such as -12.5 or 3e-2").at_line(line)),
    }
}
