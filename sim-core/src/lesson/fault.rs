//! What is wrong with a lesson, and where in its text it stands.

use super::cannot::CannotMeasure;
use super::condition::ConditionError;
use super::phrase_error::PhraseError;
use super::prose::ProseError;
use super::value::Value;
use crate::setting::{ChangeError, NameError};
use crate::text::{ReadError, words};

/// Something that is wrong with a lesson.
#[derive(Clone, Debug, PartialEq)]
pub struct Fault {
    /// The step it stands in, from 0; none for the lesson as a whole.
    pub step: Option<usize>,
    /// The field it stands in.
    pub field: &'static str,
    /// The text in quotes that it is about; none where it is about a field.
    pub quoted: Option<String>,
    /// The part of that text.
    pub part: String,
    /// What it is.
    pub what: Wrong,
}

/// What can be wrong with a lesson.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum Wrong {
    /// A field without a word.
    #[error("{field} is empty; write a sentence")]
    Empty {
        /// The field.
        field: &'static str,
    },
    /// Nothing behind what is taught.
    #[error("sources is empty; give at least one Published(\"…\"), CommonPractice(\"…\") or Geometry(\"…\")")]
    NoSource,
    /// No steps.
    #[error("steps is empty; give at least one")]
    NoStep,
    /// A text that is none.
    #[error(transparent)]
    Prose(ProseError),
    /// A phrase that is none.
    #[error(transparent)]
    Phrase(#[from] PhraseError),
    /// A statement that is none.
    #[error(transparent)]
    Condition(#[from] ConditionError),
    /// A change that is none.
    #[error(transparent)]
    Change(#[from] ChangeError),
    /// A setting that is none.
    #[error(transparent)]
    Name(#[from] NameError),
    /// Something that cannot be measured.
    #[error("`{phrase}` cannot be measured: {error}")]
    Unmeasured {
        /// What was to be measured.
        phrase: String,
        /// Why not.
        error: CannotMeasure,
    },
    /// Changes that cannot be made.
    #[error("{0}")]
    Changes(CannotMeasure),
    /// A place without an excursion, or beyond its end.
    #[error("at_mm is {given}; {allowed}")]
    At {
        /// What was given.
        given: f64,
        /// What would do.
        allowed: String,
    },
    /// The jaw cannot go there.
    #[error("the excursion cannot be shown: {0}")]
    NoPose(CannotMeasure),
    /// Too few answers.
    #[error("answers has {given}; give two or more")]
    FewAnswers {
        /// How many there are.
        given: usize,
    },
    /// No answer is right.
    #[error("no answer is right by the solver; exactly one must be")]
    NoneRight,
    /// Several are.
    #[error("answers {} are all right by the solver; exactly one must be", .right.join(" and "))]
    ManyRight {
        /// What they say.
        right: Vec<String>,
    },
    /// Two answers say the same.
    #[error("two answers say the same")]
    SameAnswers,
    /// A statement that holds or fails by next to nothing.
    #[error("`{statement}` is too close to call: it holds by {by} only, which nobody can see")]
    TooClose {
        /// The statement.
        statement: String,
        /// By how much.
        by: String,
    },
    /// A tolerance that is none.
    #[error(
        "within is `{given}`; write a number above 0 in the unit of what is measured, for example `0.2 mm`"
    )]
    Tolerance {
        /// What was given.
        given: String,
    },
    /// A mistake in another unit than the right answer.
    #[error("`{gives}` is in {one}, and what is asked in {other}")]
    MistakeUnit {
        /// What the mistake measures.
        gives: String,
        /// Its unit.
        one: &'static str,
        /// The unit of the right answer.
        other: &'static str,
    },
    /// A mistake that comes to the right answer, or to another mistake's.
    #[error("this mistake gives {value}, which within the tolerance is {same}; nobody could be told by it")]
    MistakeIsRight {
        /// What it gives.
        value: String,
        /// What it is the same as.
        same: &'static str,
    },
    /// What is to be reached holds already.
    #[error("`{until}` holds before anything is changed; there is nothing to do")]
    Done {
        /// The statement.
        until: String,
    },
    /// The model does not solve it.
    #[error("with the model's changes `{until}` still does not hold")]
    ModelFails {
        /// The statement.
        until: String,
    },
    /// No model.
    #[error("model is empty; give changes that solve the question")]
    NoModel,
    /// The model changes what nobody may.
    #[error("the model changes {setting}, which is not in turn")]
    ModelTurns {
        /// The setting.
        setting: String,
    },
}

impl Fault {
    /// The fault with its place in the text of the lesson.
    #[must_use]
    pub fn placed(&self, text: &str) -> ReadError {
        let (line, column) = self.place_in(text);
        ReadError { line, column, field: String::new(), what: self.what.to_string() }
    }

    /// Line and column, from 1. What cannot be found is put at the start of its step, or of the text.
    #[must_use]
    pub fn place_in(&self, text: &str) -> (usize, usize) {
        let all = words(text);
        let in_step = |word: &&crate::text::Word<'_>| match self.step {
            None => true,
            // Inside the lesson's bracket the list of steps, inside the list the step.
            Some(step) => word.fields.first() == Some(&"steps") && word.nth.get(1) == Some(&step),
        };
        let of_step = || all.iter().filter(in_step);
        if let Some(quoted) = &self.quoted {
            // A text with escapes differs from what it says; its part is then found by itself.
            let same = of_step().filter(|word| word.is_quoted && word.text == quoted);
            let same = same.max_by_key(|word| word.fields.last() == Some(&self.field));
            let holding = || {
                of_step()
                    .find(|word| word.is_quoted && !self.part.is_empty() && word.text.contains(&self.part))
            };
            if let Some(word) = same.or_else(holding) {
                return match self.part.is_empty() {
                    true => word.place(text),
                    false => word.place_of_part(&self.part, text),
                };
            }
        }
        let field = of_step().filter(|word| !word.is_quoted && word.text == self.field);
        let field = field.min_by_key(|word| word.fields.len());
        field
            .or_else(|| of_step().next().filter(|_| self.step.is_some()))
            .map_or((1, 1), |word| word.place(text))
    }
}

/// A number with its unit, for an author.
pub(super) fn written(value: Value) -> String {
    format!("{:.3}{}", value.number, value.unit.map_or("", crate::units::Unit::sign))
}
