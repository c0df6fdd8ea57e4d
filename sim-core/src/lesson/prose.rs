//! A text of a lesson, with the places in which the solver puts numbers.
//!
//! `{separation 36 mesiobuccal}` is such a place; `{{` and `}}` are the braces themselves. Lines may be
//! broken anywhere; an empty line parts paragraphs.

use super::cannot::CannotMeasure;
use super::phrase::Phrase;
use super::phrase_error::PhraseError;
use super::situation::Situation;
use super::value::Value;

/// A text with places for numbers.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Prose {
    pieces: Vec<Piece>,
}

#[derive(Clone, Debug, PartialEq)]
enum Piece {
    Words(String),
    Place(Phrase),
}

/// A piece of a text with its numbers in place.
#[derive(Clone, Debug, PartialEq)]
pub enum Said {
    /// Words as they were written.
    Words(String),
    /// A number.
    Value(Value),
}

/// Why something is no text of a lesson.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum ProseError {
    /// Nothing to read.
    #[error("the text is empty; write a sentence")]
    Empty,
    /// A brace that is not closed, or not opened.
    #[error("a brace is not closed or not opened; write `{{{{` and `}}}}` for braces that are meant as such")]
    Brace,
    /// Something in braces that is not measured.
    #[error("{{{written}}}: {error}")]
    Place {
        /// What stands in the braces.
        written: String,
        /// Why it is nothing.
        error: PhraseError,
    },
    /// A number with a unit, typed by hand.
    #[error(
        "`{given}` is typed by hand; put what is measured in braces, as in `{{separation 36 mesiobuccal}}` or `{{setting pin_extension_mm}}`, so that it stays right"
    )]
    TypedNumber {
        /// The number and its unit.
        given: String,
    },
}

impl ProseError {
    /// The part of the text that the complaint is about; empty for all of it.
    #[must_use]
    pub fn part(&self) -> &str {
        match self {
            Self::Empty | Self::Brace => "",
            Self::Place { written, .. } => written,
            Self::TypedNumber { given } => given,
        }
    }
}

/// What stands behind a number that should have been measured.
const UNITS: [&str; 6] = ["mm", "\u{b0}", "degree", "millimet", "deg ", "\u{b5}m"];

impl Prose {
    /// Reads a text, with everything that is wrong in it.
    ///
    /// # Errors
    /// Every [`ProseError`] found.
    pub fn parse(text: &str) -> Result<Self, Vec<ProseError>> {
        let mut errors = Vec::new();
        if text.trim().is_empty() {
            return Err(vec![ProseError::Empty]);
        }
        let mut pieces = Vec::new();
        let mut words = String::new();
        let mut rest = text;
        while let Some(at) = rest.find(['{', '}']) {
            let (before, behind) = rest.split_at(at);
            words += before;
            if let Some(behind) = behind.strip_prefix("{{") {
                words.push('{');
                rest = behind;
            } else if let Some(behind) = behind.strip_prefix("}}") {
                words.push('}');
                rest = behind;
            } else if let Some((inside, behind)) =
                behind.strip_prefix('{').and_then(|inside| inside.split_once('}'))
            {
                pieces.push(Piece::Words(std::mem::take(&mut words)));
                match inside.parse() {
                    Ok(phrase) => pieces.push(Piece::Place(phrase)),
                    Err(error) => errors.push(ProseError::Place { written: inside.to_owned(), error }),
                }
                rest = behind;
            } else {
                errors.push(ProseError::Brace);
                rest = behind.get(1..).unwrap_or_default();
            }
        }
        words += rest;
        pieces.push(Piece::Words(words));
        for piece in &mut pieces {
            if let Piece::Words(words) = piece {
                errors.extend(typed_number(words).map(|given| ProseError::TypedNumber { given }));
                *words = unbroken(words);
            }
        }
        pieces.retain(|piece| !matches!(piece, Piece::Words(words) if words.is_empty()));
        if errors.is_empty() { Ok(Self { pieces }) } else { Err(errors) }
    }

    /// The text with its numbers put in.
    ///
    /// # Errors
    /// [`CannotMeasure`] with what was to be measured, for the first that cannot be.
    pub fn said(&self, situation: &Situation<'_>) -> Result<Vec<Said>, (String, CannotMeasure)> {
        let said = |piece: &Piece| match piece {
            Piece::Words(words) => Ok(Said::Words(words.clone())),
            Piece::Place(phrase) => {
                situation.measure(phrase).map(Said::Value).map_err(|error| (phrase.to_string(), error))
            }
        };
        self.pieces.iter().map(said).collect()
    }

    /// What it measures, each place once.
    pub fn places(&self) -> impl Iterator<Item = &Phrase> {
        self.pieces.iter().filter_map(|piece| match piece {
            Piece::Words(_) => None,
            Piece::Place(phrase) => Some(phrase),
        })
    }
}

/// Lines joined; an empty line stays as the break of a paragraph.
pub(super) fn unbroken(text: &str) -> String {
    let starts = text.starts_with(char::is_whitespace);
    let ends = text.ends_with(char::is_whitespace);
    let paragraphs: Vec<String> = text
        .split("\n")
        .map(str::trim)
        .collect::<Vec<_>>()
        .split(|line| line.is_empty())
        .filter(|lines| !lines.is_empty())
        .map(|lines| lines.join(" ").split_whitespace().collect::<Vec<_>>().join(" "))
        .collect();
    let mut joined = paragraphs.join("\n\n");
    // A space beside a number in braces is meant.
    if starts && !joined.is_empty() {
        joined.insert(0, ' ');
    }
    if ends {
        joined.push(' ');
    }
    joined
}

/// The first number with a unit that stands in a text.
fn typed_number(text: &str) -> Option<String> {
    for (at, letter) in text.char_indices() {
        if !letter.is_ascii_digit() {
            continue;
        }
        let behind = text.get(at + 1..).unwrap_or_default();
        let unit = behind.trim_start_matches([' ', '\u{a0}', '-']);
        if let Some(found) = UNITS.iter().find(|name| unit.starts_with(**name)) {
            let start = text.get(..=at).unwrap_or_default();
            let is_of_number = |letter: char| letter.is_ascii_digit() || matches!(letter, '.' | ',');
            let from = start.rfind(|letter| !is_of_number(letter)).map_or(0, |before| {
                before + start.get(before..).and_then(|rest| rest.chars().next()).map_or(1, char::len_utf8)
            });
            let end = at + 1 + (behind.len() - unit.len()) + found.len();
            return text.get(from..end).map(|given| given.trim().to_owned());
        }
    }
    None
}
