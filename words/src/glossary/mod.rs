//! The words of the trade that the program uses, each with what it means: one list, from which the page for
//! users is made and which the viewer shows.

mod term;
mod terms;

pub use term::{Section, Term};

/// Every term, by sections.
#[must_use]
pub const fn all() -> &'static [Term] {
    terms::TERMS
}

/// The terms that a label uses, in the order in which they stand there; of terms that stand one within another
/// the longest.
#[must_use]
pub fn used_in(label: &str) -> Vec<&'static Term> {
    let mut found: Vec<(usize, &'static Term)> = Vec::new();
    for (place, term) in places(&words_of(label)) {
        if !found.iter().any(|(_, own)| std::ptr::eq(*own, term)) {
            found.push((place, term));
        }
    }
    found.into_iter().map(|(_, term)| term).collect()
}

/// The terms whose name, other name or meaning has what is looked for; all of them where nothing is.
#[must_use]
pub fn matching(wanted: &str) -> Vec<&'static Term> {
    let wanted = wanted.trim().to_lowercase();
    let has = |text: &str| text.to_lowercase().contains(&wanted);
    let mut found: Vec<&Term> = all()
        .iter()
        .filter(|term| has(term.term) || term.also.iter().any(|also| has(also)) || has(term.meaning))
        .collect();
    // What is called so stands before what only speaks of it.
    found.sort_by_key(|term| (!has(term.term), !term.also.iter().any(|also| has(also))));
    found
}

/// The words of a label in lower case, without signs; a possessive and a plural are the word.
fn words_of(label: &str) -> Vec<String> {
    let lower = label.to_lowercase().replace('’', "'");
    let parts = lower.split(|letter: char| !(letter.is_alphanumeric() || letter == '\'' || letter == '-'));
    parts.filter(|part| !part.is_empty()).map(|part| singular(part).to_owned()).collect()
}

/// A word without the ending of a plural or possessive. What ends on `ss` or `us`, or is short, has none.
fn singular(word: &str) -> &str {
    let word = word.strip_suffix("'s").unwrap_or(word);
    match word.strip_suffix('s') {
        Some(one) if one.len() > 3 && !one.ends_with(['s', 'u', 'i']) => one,
        _ => word,
    }
}

/// Where in a label's words terms stand: the place of the first word, the longest term there.
fn places(label: &[String]) -> Vec<(usize, &'static Term)> {
    let mut found = Vec::new();
    let mut at = 0;
    while at < label.len() {
        let here = &label[at..];
        let longest = all()
            .iter()
            .flat_map(|term| {
                std::iter::once(&term.term).chain(term.also).map(move |name| (term, words_of(name)))
            })
            .filter(|(_, name)| !name.is_empty() && here.starts_with(name))
            .max_by_key(|(_, name)| name.len());
        match longest {
            Some((term, name)) => {
                found.push((at, term));
                at += name.len();
            }
            None => at += 1,
        }
    }
    found
}

#[cfg(test)]
mod tests;
