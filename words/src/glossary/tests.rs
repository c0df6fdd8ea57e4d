//! The list is whole, and the page for users is made from it.

use std::collections::BTreeSet;

use proptest::prelude::*;
use sim_core::excursion::{Drive, Movement, Ratio};
use sim_core::frame::Side;
use sim_core::setting::{Choice, listed};

use super::{Section, all, matching, places, singular, used_in, words_of};

/// The page for users.
const PAGE: &str = include_str!("../../../docs/glossary.md");
const HEAD: &str = "# Words

What the program calls things, and what else they are called. Angles are degrees, lengths millimetres, sides the
patient's. The viewer shows the same list (key Q); it stands in `words/src/glossary/terms.rs`, from which
this page is made.
";

fn page() -> String {
    let mut page = HEAD.to_owned();
    for section in Section::ALL {
        page += &format!(
            "\n## {}\n\n| here | also called | what it is |\n| --- | --- | --- |\n",
            section.title()
        );
        for term in all().iter().filter(|term| term.section == section) {
            let also = if term.also.is_empty() { "–".to_owned() } else { term.also.join(", ") };
            let unit = term.unit.map_or("", |unit| unit.sign());
            let unit = if unit.is_empty() { String::new() } else { format!(" ({})", unit.trim()) };
            page += &format!("| {}{unit} | {also} | {} |\n", term.term, term.meaning);
        }
    }
    page
}

#[test]
fn the_page_for_users_says_what_the_list_says() {
    assert!(
        PAGE == page(),
        "docs/glossary.md is old: cargo test -p words glossary -- --ignored writes it anew"
    );
}

#[test]
#[ignore = "writes docs/glossary.md"]
fn write_the_page_for_users() {
    std::fs::write(concat!(env!("CARGO_MANIFEST_DIR"), "/../docs/glossary.md"), page())
        .expect("a page written");
}

/// Words that are no term: plain English, which a label may use.
const PLAIN: &str = "a above across and as at before behind below beside between both by centre each end every for form \
    from front half how in inclination into is it least left length lower middle natural of off on one or other over \
    part radius right spent surface teeth the tip to top upper way what where which width with";

/// Words of a label that neither belong to a term nor are plain.
fn unexplained(label: &str) -> Vec<String> {
    let words = words_of(label);
    let mut open: Vec<bool> = vec![true; words.len()];
    for (at, term) in places(&words) {
        let names = std::iter::once(&term.term).chain(term.also).map(|name| words_of(name));
        let longest = names.filter(|name| words[at..].starts_with(name)).map(|name| name.len()).max();
        for word in &mut open[at..at + longest.unwrap_or(0)] {
            *word = false;
        }
    }
    let plain: BTreeSet<&str> = PLAIN.split_whitespace().collect();
    words
        .into_iter()
        .zip(open)
        .filter(|(word, open)| *open && !plain.contains(word.as_str()))
        .map(|(word, _)| word)
        .collect()
}

#[test]
fn every_term_of_a_setting_a_choice_or_an_excursion_is_in_the_list() {
    let mut labels: Vec<String> = listed().map(|setting| setting.facts.label.to_owned()).collect();
    for choice in Choice::ALL {
        labels.push(choice.label().to_owned());
        labels.extend(choice.words().iter().map(|word| (*word).to_owned()));
    }
    let ratio = Ratio::new(0.5).expect("a ratio");
    let sided = |working| [Movement::Lateral { working }, Movement::Lateroprotrusive { working, ratio }];
    let movements = Side::BOTH.into_iter().flat_map(sided).chain([Movement::Protrusive, Movement::Opening]);
    labels.extend(movements.map(|movement| crate::name::movement(movement).to_owned()));
    for facts in [&Drive::ADVANCE, &Drive::INCISAL_DISPLACEMENT, &Drive::TRACING, &Drive::OPENING] {
        labels.push(facts.label.to_owned());
    }
    let faults = labels.iter().filter_map(|label| match unexplained(label) {
        words if !words.is_empty() => Some(format!("{label}: {words:?} are not explained")),
        _ if used_in(label).is_empty() => Some(format!("{label}: no term is explained")),
        _ => None,
    });
    assert_eq!(faults.collect::<Vec<_>>(), Vec::<String>::new());
}

#[test]
fn a_term_is_listed_once_and_says_something() {
    let mut names = BTreeSet::new();
    for term in all() {
        for name in std::iter::once(&term.term).chain(term.also) {
            assert!(names.insert(words_of(name)), "{name}, of {}, is listed twice", term.term);
        }
        assert!(term.meaning.ends_with('.') && !term.meaning.contains('|'), "{}", term.term);
    }
}

#[test]
fn a_label_is_explained_by_its_longest_terms() {
    let terms = |label: &str| used_in(label).iter().map(|term| term.term).collect::<Vec<_>>();
    assert_eq!(terms("lateral condylar (Bennett) angle L"), ["lateral condylar angle"]);
    assert_eq!(terms("right wing of the incisal guide"), ["wing", "anterior guide"]);
    assert_eq!(terms("Condylar guides"), ["condylar guide"]);
    assert_eq!(terms("lateroretrusion, working side"), ["lateroretrusion", "working side"]);
    assert_eq!(terms("nothing of the kind"), Vec::<&str>::new());
}

#[test]
fn what_is_called_so_stands_before_what_speaks_of_it() {
    assert_eq!(matching("separation")[0].term, "separation");
    assert_eq!(matching("BENNETT ANGLE")[0].term, "lateral condylar angle");
    assert_eq!(matching("  ").len(), all().len());
    assert!(matching("no such word").is_empty());
}

#[test]
fn plurals_are_the_word() {
    for (word, one) in
        [("cusps", "cusp"), ("pin's", "pin"), ("axis", "axis"), ("class", "class"), ("radius", "radius")]
    {
        assert_eq!(singular(word), one);
    }
}

proptest! {
    #[test]
    fn no_label_is_too_odd_to_look_through(label in "\\PC{0,40}") {
        let found = used_in(&label);
        prop_assert!(found.len() <= label.chars().count());
        prop_assert!(matching(&label).len() <= all().len());
    }
}
