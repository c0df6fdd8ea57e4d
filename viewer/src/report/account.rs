//! What the report says of an account, and of the glossary.

use serde::Serialize;
use words::verdict::account::{no_slopes, part, slope};

use crate::explaining::Glossary;
use crate::state::State;

/// The account shown.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub(super) struct AccountLine {
    number: &'static str,
    /// Place of the cusp in the scene's list.
    cusp: Option<usize>,
    value: Option<f64>,
    /// Name and amount of each part.
    parts: Vec<(String, f64)>,
    sum: f64,
    /// What moves it, in words, most first.
    slopes: Vec<String>,
    /// Why there is no account, or nothing that moves it.
    why_not: Option<String>,
}

/// The glossary shown.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub(super) struct GlossaryLine {
    wanted: String,
    terms: Vec<&'static str>,
}

pub(super) fn line(state: &State) -> Option<AccountLine> {
    let found = state.explaining.found.as_ref()?;
    let number = state.explaining.number;
    let mut line = AccountLine {
        number: number.name(),
        cusp: number.cusp(),
        value: None,
        parts: Vec::new(),
        sum: 0.0,
        slopes: Vec::new(),
        why_not: None,
    };
    match &found.account {
        Ok(account) => {
            line.value = Some(account.value);
            line.parts = account.parts.iter().map(|of| (part(of), of.amount)).collect();
            line.sum = account.parts.iter().map(|of| of.amount).sum();
            match &account.slopes {
                Ok(slopes) => line.slopes = slopes.iter().map(|of| slope(number, of)).collect(),
                Err(why) => line.why_not = Some(no_slopes(*why).to_owned()),
            }
        }
        Err(why) => line.why_not = Some(why.clone()),
    }
    Some(line)
}

pub(super) fn glossary(glossary: &Glossary) -> GlossaryLine {
    let terms = glossary.terms().iter().map(|term| term.term).collect();
    GlossaryLine { wanted: glossary.wanted.clone(), terms }
}
