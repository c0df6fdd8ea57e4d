//! A statement that is true or false of a set-up, as an author writes it.
//!
//! One comparison or several with `and` between them:
//! `separation 37 > separation 34`, `clearance 46 < 0 mm`,
//! `drop left is drop right within 0.05 mm`.

use std::fmt;
use std::str::FromStr;

use super::cannot::CannotMeasure;
use super::phrase::Phrase;
use super::phrase_error::PhraseError;
use super::situation::Situation;
use super::value::{Value, unit_words};

/// A statement that is true or false of a set-up.
#[derive(Clone, Debug, PartialEq)]
pub struct Condition {
    all: Vec<Comparison>,
    written: String,
}

#[derive(Clone, Debug, PartialEq)]
struct Comparison {
    left: Phrase,
    right: Phrase,
    test: Test,
}

#[derive(Clone, Copy, Debug, PartialEq)]
enum Test {
    Greater,
    Less,
    Within(f64),
}

/// Whether a statement holds.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Truth {
    /// It holds.
    Holds,
    /// It does not.
    Fails,
    /// By so little that nobody could see it in the picture.
    TooClose {
        /// By how much, in the unit of what is compared.
        by: Value,
    },
}

/// Why something is no statement.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum ConditionError {
    /// No comparison.
    #[error(
        "`{given}` compares nothing; write for example `separation 37 > separation 34`, `clearance 46 < 0 mm` or `drop left is drop right within 0.05 mm`"
    )]
    NoComparison {
        /// What was given.
        given: String,
    },
    /// Something that is no phrase.
    #[error(transparent)]
    Phrase(#[from] PhraseError),
    /// Millimetres and degrees.
    #[error("`{written}` compares {one} with {other}; both need one unit")]
    Units {
        /// The comparison.
        written: String,
        /// A unit.
        one: &'static str,
        /// Another.
        other: &'static str,
    },
    /// A tolerance that is none.
    #[error(
        "`within {given}` is no tolerance; write a number above 0 with the unit of what is compared, for example `within 0.05 mm`"
    )]
    Tolerance {
        /// What was given.
        given: String,
    },
}

impl FromStr for Condition {
    type Err = ConditionError;

    fn from_str(written: &str) -> Result<Self, ConditionError> {
        let words: Vec<&str> = written.split_whitespace().collect();
        let all = words.split(|word| *word == "and").map(Comparison::parse).collect::<Result<_, _>>()?;
        Ok(Self { all, written: words.join(" ") })
    }
}

impl Comparison {
    fn parse(words: &[&str]) -> Result<Self, ConditionError> {
        let written = words.join(" ");
        let no_comparison = || ConditionError::NoComparison { given: written.clone() };
        let at = words.iter().position(|word| matches!(*word, ">" | "<" | "is")).ok_or_else(no_comparison)?;
        let (left, behind) = words.split_at(at);
        let Some((sign, behind)) = behind.split_first() else { return Err(no_comparison()) };
        let left: Phrase = left.join(" ").parse()?;
        let (right, test) = match *sign {
            ">" => (behind, Test::Greater),
            "<" => (behind, Test::Less),
            _ => {
                let within = behind.iter().rposition(|word| *word == "within").ok_or_else(no_comparison)?;
                let (right, tolerance) = behind.split_at(within);
                let given = tolerance.get(1..).unwrap_or_default().join(" ");
                let number = given.parse::<Phrase>().ok().and_then(|phrase| phrase.written_number());
                let number = number.filter(|number| number.unit == left.unit() && number.number > 0.0);
                (right, Test::Within(number.ok_or(ConditionError::Tolerance { given })?.number))
            }
        };
        let right: Phrase = right.join(" ").parse()?;
        if left.unit() != right.unit() {
            let (one, other) = (unit_words(left.unit()), unit_words(right.unit()));
            return Err(ConditionError::Units { written, one, other });
        }
        Ok(Self { left, right, test })
    }

    fn truth(&self, situation: &Situation<'_>) -> Result<Truth, CannotMeasure> {
        let (left, right) = (situation.measure(&self.left)?, situation.measure(&self.right)?);
        let beyond = match self.test {
            Test::Greater => left.number - right.number,
            Test::Less => right.number - left.number,
            Test::Within(tolerance) => tolerance - (left.number - right.number).abs(),
        };
        // What is asked to be equal has a tolerance of its own.
        let least = match self.test {
            Test::Within(_) => 0.0,
            Test::Greater | Test::Less => Value::look_alike_within(left.unit),
        };
        Ok(match beyond {
            beyond if beyond > least => Truth::Holds,
            beyond if beyond > 0.0 => Truth::TooClose { by: Value { number: beyond, ..left } },
            _ => Truth::Fails,
        })
    }
}

impl Condition {
    /// Whether it holds in a situation. Where one part of it fails, the whole fails.
    ///
    /// # Errors
    /// [`CannotMeasure`] where something in it cannot be measured.
    pub fn truth(&self, situation: &Situation<'_>) -> Result<Truth, CannotMeasure> {
        let mut whole = Truth::Holds;
        for part in &self.all {
            match part.truth(situation)? {
                Truth::Fails => return Ok(Truth::Fails),
                close @ Truth::TooClose { .. } => whole = close,
                Truth::Holds => {}
            }
        }
        Ok(whole)
    }

    /// Whether it holds, by however little.
    ///
    /// # Errors
    /// As [`Self::truth`].
    pub fn holds(&self, situation: &Situation<'_>) -> Result<bool, CannotMeasure> {
        Ok(self.truth(situation)? != Truth::Fails)
    }
}

impl fmt::Display for Condition {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.written)
    }
}
