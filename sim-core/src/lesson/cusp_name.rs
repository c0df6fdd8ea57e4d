//! A cusp as a lesson names it: `36 mesiobuccal`, or `36` where the scene watches one cusp of that tooth.

use super::cannot::CannotMeasure;
use super::phrase_error::PhraseError;
use crate::cusp::{Cusp, Tooth};

/// A cusp by its tooth and its name.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CuspName {
    tooth: Tooth,
    name: Option<String>,
}

impl CuspName {
    /// Reads it from its words, of which there is at least one.
    pub(super) fn parse(words: &[&str]) -> Result<Self, PhraseError> {
        let first = words.first().copied().unwrap_or_default();
        let number: i64 =
            first.parse().map_err(|_| PhraseError::Tooth { given: first.to_owned(), why: None })?;
        let tooth = Tooth::new(number)
            .map_err(|error| PhraseError::Tooth { given: first.to_owned(), why: Some(error) })?;
        let name = words.get(1..).filter(|rest| !rest.is_empty()).map(|rest| rest.join(" "));
        Ok(Self { tooth, name })
    }

    /// Its place in a list of cusps.
    ///
    /// # Errors
    /// [`CannotMeasure`] where there is none, or several of that tooth and no name tells which.
    pub fn find(&self, cusps: &[Cusp]) -> Result<usize, CannotMeasure> {
        let is_meant = |cusp: &Cusp| {
            cusp.tooth() == self.tooth && self.name.as_ref().is_none_or(|name| name == cusp.name())
        };
        let mut found = cusps.iter().enumerate().filter(|(_, cusp)| is_meant(cusp));
        let known = || cusps.iter().map(|cusp| format!("{} {}", cusp.tooth(), cusp.name())).collect();
        match (found.next(), found.next()) {
            (Some((place, _)), None) => Ok(place),
            (None, _) => Err(CannotMeasure::NoSuchCusp { given: self.to_string(), known: known() }),
            (Some(_), Some(_)) => Err(CannotMeasure::ManyCusps { tooth: self.tooth, known: known() }),
        }
    }
}

impl std::str::FromStr for CuspName {
    type Err = PhraseError;

    fn from_str(text: &str) -> Result<Self, PhraseError> {
        Self::parse(&text.split_whitespace().collect::<Vec<_>>())
    }
}

impl std::fmt::Display for CuspName {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match &self.name {
            Some(name) => write!(f, "{} {name}", self.tooth),
            None => write!(f, "{}", self.tooth),
        }
    }
}
