//! What is measured, as an author writes it: `separation 36 mesiobuccal in right lateral at 3 mm`.
//!
//! A phrase is one term or several, with `plus` and `minus` between them. A term is a number with its unit,
//! or a [`Quantity`] and then, in any order and each at most once:
//!
//! - `in protrusive`, `in right lateral`, `in left lateral`: the excursion; else the step's.
//! - `at 3 mm` of condylar advance, `at tracing 6 mm`, `at incisal 4 mm`, `at rest`: how far; else as far as
//!   the step goes.
//! - `with NAME=VALUE, NAME=VALUE`: the set-up changed first.
//! - `as started`: on the set-up at which the lesson starts, not the step's.

use std::fmt;
use std::str::FromStr;

use super::phrase_error::PhraseError;
use super::quantity::Quantity;
use super::value::{Value, unit_words};
use crate::excursion::{Drive, Movement};
use crate::frame::Side;
use crate::setting::{Change, ChangeError};
use crate::units::{Length, Unit};

/// What is measured.
#[derive(Clone, Debug, PartialEq)]
pub struct Phrase {
    /// Each with its sign, 1 or −1; at least one.
    pub(super) terms: Vec<(f64, Term)>,
    unit: Option<Unit>,
    written: String,
}

/// One part of a phrase.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Term {
    Number(f64),
    Of(Quantity, Where),
}

/// Where a quantity is measured, as far as a phrase says.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct Where {
    pub(super) movement: Option<Movement>,
    pub(super) at: Option<At>,
    pub(super) changes: Vec<Change>,
    pub(super) as_started: bool,
}

/// How far along an excursion.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum At {
    /// Before any movement.
    Rest,
    /// As far as this.
    Driven(Drive),
}

const SUFFIXES: [&str; 4] = ["in", "at", "with", "as"];

impl FromStr for Phrase {
    type Err = PhraseError;

    fn from_str(written: &str) -> Result<Self, PhraseError> {
        let words: Vec<&str> = written.split_whitespace().collect();
        let mut terms: Vec<(f64, Term)> = Vec::new();
        let mut unit: Option<Option<Unit>> = None;
        let mut sign = 1.0;
        let mut rest = words.as_slice();
        if let ["minus", behind @ ..] = rest {
            (sign, rest) = (-1.0, behind);
        }
        loop {
            let end = rest.iter().position(|word| matches!(*word, "plus" | "minus")).unwrap_or(rest.len());
            let (own, behind) = rest.split_at(end);
            let (term, of) = Term::parse(own)?;
            match unit {
                Some(unit) if unit != of => {
                    let (one, other) = (unit_words(unit), unit_words(of));
                    return Err(PhraseError::Units { written: written.trim().to_owned(), one, other });
                }
                _ => unit = Some(of),
            }
            terms.push((sign, term));
            match behind {
                [] => break,
                [word, behind @ ..] => {
                    (sign, rest) = (if *word == "minus" { -1.0 } else { 1.0 }, behind);
                }
            }
        }
        Ok(Self { terms, unit: unit.flatten(), written: words.join(" ") })
    }
}

impl Phrase {
    /// The unit of its number; none for a count.
    #[must_use]
    pub const fn unit(&self) -> Option<Unit> {
        self.unit
    }

    /// The number, where it is one that was written down.
    #[must_use]
    pub fn written_number(&self) -> Option<Value> {
        match self.terms.as_slice() {
            [(sign, Term::Number(number))] => {
                Some(Value { number: sign * number, unit: self.unit, is_set: true })
            }
            _ => None,
        }
    }

    /// What it measures, each once.
    pub fn quantities(&self) -> impl Iterator<Item = &Quantity> {
        self.terms.iter().filter_map(|(_, term)| match term {
            Term::Of(quantity, _) => Some(quantity),
            Term::Number(_) => None,
        })
    }
}

impl fmt::Display for Phrase {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.written)
    }
}

impl Term {
    fn parse(words: &[&str]) -> Result<(Self, Option<Unit>), PhraseError> {
        let first = words.first().ok_or(PhraseError::Empty)?;
        if first
            .starts_with(|letter: char| letter.is_ascii_digit() || matches!(letter, '-' | '.' | '\u{2212}'))
        {
            let (number, unit) = number(words)?;
            return Ok((Self::Number(number), unit));
        }
        let end = words.iter().position(|word| SUFFIXES.contains(word)).unwrap_or(words.len());
        let (name, suffixes) = words.split_at(end);
        let quantity = Quantity::parse(name)?;
        let unit = quantity.unit();
        Ok((Self::Of(quantity, Where::parse(suffixes)?), unit))
    }
}

/// A number with its unit: `3 mm`, `2 deg`, `2°`, `4`.
fn number(words: &[&str]) -> Result<(f64, Option<Unit>), PhraseError> {
    let given = words.join(" ");
    let wrong = || PhraseError::NoNumber { given: given.clone() };
    let (number, unit) = match words {
        [number] => match number.strip_suffix('\u{b0}') {
            Some(number) => (number, Some(Unit::Degree)),
            None => (*number, None),
        },
        [number, "mm"] => (*number, Some(Unit::Millimetre)),
        [number, "deg" | "degrees" | "\u{b0}"] => (*number, Some(Unit::Degree)),
        _ => return Err(wrong()),
    };
    let number: f64 = number.replace('\u{2212}', "-").parse().map_err(|_| wrong())?;
    if number.is_finite() { Ok((number, unit)) } else { Err(wrong()) }
}

impl Where {
    fn parse(mut words: &[&str]) -> Result<Self, PhraseError> {
        let mut place = Self::default();
        while let [suffix, behind @ ..] = words {
            let end = behind.iter().position(|word| SUFFIXES.contains(word)).unwrap_or(behind.len());
            let (own, rest) = behind.split_at(end);
            let twice = |is_there: bool| {
                if is_there { Err(PhraseError::Twice { word: (*suffix).to_owned() }) } else { Ok(()) }
            };
            match *suffix {
                "in" => {
                    twice(place.movement.is_some())?;
                    place.movement = Some(movement(own)?);
                }
                "at" => {
                    twice(place.at.is_some())?;
                    place.at = Some(At::parse(own)?);
                }
                "with" => {
                    twice(!place.changes.is_empty())?;
                    let changes = own.join(" ");
                    place.changes = changes.split(',').map(str::parse).collect::<Result<_, ChangeError>>()?;
                }
                _ => {
                    twice(place.as_started)?;
                    if own != ["started"] {
                        let given = format!("as {}", own.join(" "));
                        return Err(PhraseError::Behind { given, example: "separation 36 as started" });
                    }
                    place.as_started = true;
                }
            }
            words = rest;
        }
        Ok(place)
    }
}

fn movement(words: &[&str]) -> Result<Movement, PhraseError> {
    match words {
        ["protrusive"] => Ok(Movement::Protrusive),
        ["right", "lateral"] => Ok(Movement::Lateral { working: Side::Right }),
        ["left", "lateral"] => Ok(Movement::Lateral { working: Side::Left }),
        _ => Err(PhraseError::NoSuchMovement { given: words.join(" ") }),
    }
}

impl At {
    fn parse(words: &[&str]) -> Result<Self, PhraseError> {
        let (drive, mm): (fn(Length) -> Drive, &str) = match words {
            ["rest"] => return Ok(Self::Rest),
            [mm, "mm"] => (Drive::Advance, mm),
            ["tracing", mm, "mm"] => (Drive::Tracing, mm),
            ["incisal", mm, "mm"] => (Drive::IncisalDisplacement, mm),
            _ => return Err(PhraseError::NoDistance { given: words.join(" ") }),
        };
        let wrong = |_| PhraseError::NoDistance { given: words.join(" ") };
        let drive = drive(Length::from_mm(mm.parse().map_err(wrong)?));
        drive.facts().check(drive.number())?;
        Ok(Self::Driven(drive))
    }
}
