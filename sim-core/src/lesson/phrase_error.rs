//! Why something that an author wrote is no phrase.

use crate::cusp::NoSuchTooth;
use crate::facts::OutOfRange;
use crate::setting::{ChangeError, NameError, Near};

/// Why something is no phrase.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum PhraseError {
    /// Nothing there.
    #[error("nothing is measured; write for example `separation 36 mesiobuccal`")]
    Empty,
    /// Nothing of that name is measured.
    #[error("nothing is called `{given}`; {near}")]
    NoSuchQuantity {
        /// What was given.
        given: String,
        /// What is called nearly so.
        near: Near,
    },
    /// The name is known, and what follows it is not.
    #[error("`{given}` is not complete, or goes on too long; write for example `{example}`")]
    Behind {
        /// What was given.
        given: String,
        /// What would do.
        example: &'static str,
    },
    /// A tooth that no mouth has.
    #[error("`{given}` is no tooth{}; write for example `separation 36 mesiobuccal`", .why.map(|why| format!(" ({why})")).unwrap_or_default())]
    Tooth {
        /// What was given.
        given: String,
        /// What a tooth number may be.
        why: Option<NoSuchTooth>,
    },
    /// A setting of no such name.
    #[error(transparent)]
    Setting(NameError),
    /// A change that cannot be made.
    #[error(transparent)]
    Change(#[from] ChangeError),
    /// No such excursion.
    #[error("`in {given}` names no excursion; allowed are protrusive, right lateral and left lateral")]
    NoSuchMovement {
        /// What was given.
        given: String,
    },
    /// No distance.
    #[error(
        "`at {given}` is no place of an excursion; write for example `at 3 mm`, `at tracing 6 mm`, `at incisal 4 mm` or `at rest`"
    )]
    NoDistance {
        /// What was given.
        given: String,
    },
    /// Farther than a jaw goes.
    #[error(transparent)]
    OutOfRange(#[from] OutOfRange),
    /// The same thing said twice.
    #[error("`{word}` stands there twice")]
    Twice {
        /// The word.
        word: String,
    },
    /// Millimetres and degrees.
    #[error("`{written}` puts {one} and {other} together; both sides need one unit")]
    Units {
        /// The phrase.
        written: String,
        /// A unit.
        one: &'static str,
        /// Another.
        other: &'static str,
    },
    /// A number without an end.
    #[error("`{given}` is no number; write for example `3 mm`, `2 deg` or `4`")]
    NoNumber {
        /// What was given.
        given: String,
    },
}
