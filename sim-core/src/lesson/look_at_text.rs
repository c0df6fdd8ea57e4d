//! Looking into the texts of a step, and keeping what is wrong with them.

use super::condition::{Condition, Truth};
use super::fault::{Fault, Wrong, written};
use super::phrase::Phrase;
use super::prose::{Prose, Said};
use super::situation::Situation;
use super::value::Value;
use crate::setting::Change;

/// The faults of one step.
pub(super) struct Faults<'f> {
    pub(super) step: usize,
    pub(super) all: &'f mut Vec<Fault>,
}

impl Faults<'_> {
    pub(super) fn find(&mut self, field: &'static str, quoted: Option<&str>, part: &str, what: Wrong) {
        let quoted = quoted.map(str::to_owned);
        self.all.push(Fault { step: Some(self.step), field, quoted, part: part.to_owned(), what });
    }

    pub(super) fn changes(&mut self, field: &'static str, written: &[String]) -> Vec<Change> {
        let mut changes = Vec::new();
        for one in written {
            match one.parse() {
                Ok(change) => changes.push(change),
                Err(error) => self.find(field, Some(one), "", Wrong::Change(error)),
            }
        }
        changes
    }

    /// A text, not yet with its numbers.
    pub(super) fn prose(&mut self, field: &'static str, text: &str) -> Option<Prose> {
        match Prose::parse(text) {
            Ok(prose) => Some(prose),
            Err(errors) => {
                for error in errors {
                    let part = error.part().to_owned();
                    self.find(field, Some(text), &part, Wrong::Prose(error));
                }
                None
            }
        }
    }

    /// A text with its numbers; empty where it is at fault.
    pub(super) fn said(&mut self, field: &'static str, text: &str, situation: &Situation<'_>) -> Vec<Said> {
        let Some(prose) = self.prose(field, text) else { return Vec::new() };
        self.filled(field, text, &prose, situation)
    }

    pub(super) fn filled(
        &mut self,
        field: &'static str,
        text: &str,
        prose: &Prose,
        situation: &Situation<'_>,
    ) -> Vec<Said> {
        // Each place by itself, so that all that cannot be measured is told.
        for phrase in prose.places() {
            if let Err(error) = situation.measure(phrase) {
                let phrase = phrase.to_string();
                let what = Wrong::Unmeasured { phrase: phrase.clone(), error };
                self.find(field, Some(text), &phrase, what);
            }
        }
        prose.said(situation).unwrap_or_default()
    }

    pub(super) fn condition(&mut self, field: &'static str, text: &str) -> Option<Condition> {
        text.parse().map_err(|error| self.find(field, Some(text), "", Wrong::Condition(error))).ok()
    }

    pub(super) fn phrase(&mut self, field: &'static str, text: &str) -> Option<Phrase> {
        text.parse().map_err(|error| self.find(field, Some(text), "", Wrong::Phrase(error))).ok()
    }

    pub(super) fn measured(
        &mut self,
        field: &'static str,
        text: &str,
        phrase: &Phrase,
        situation: &Situation<'_>,
    ) -> Option<Value> {
        let unmeasured = |error| Wrong::Unmeasured { phrase: phrase.to_string(), error };
        situation.measure(phrase).map_err(|error| self.find(field, Some(text), "", unmeasured(error))).ok()
    }

    /// Whether a statement holds, and clearly.
    pub(super) fn truth(
        &mut self,
        field: &'static str,
        text: &str,
        situation: &Situation<'_>,
    ) -> Option<bool> {
        let condition = self.condition(field, text)?;
        match condition.truth(situation) {
            Ok(Truth::Holds) => Some(true),
            Ok(Truth::Fails) => Some(false),
            Ok(Truth::TooClose { by }) => {
                let what = Wrong::TooClose { statement: text.to_owned(), by: written(by) };
                self.find(field, Some(text), "", what);
                None
            }
            Err(error) => {
                let what = Wrong::Unmeasured { phrase: condition.to_string(), error };
                self.find(field, Some(text), "", what);
                None
            }
        }
    }
}
