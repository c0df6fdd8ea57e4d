//! Every setting: name, range, what it does. Made from the one list.

use std::fmt::Write as _;

use sim_core::setting::{self, Choice};

/// Column at which ranges start.
const NAME_WIDTH: usize = 44;
const INDENT: &str = "      ";

/// The list as text, wrapped.
pub(crate) fn text(width: usize) -> String {
    let mut text = String::new();
    for setting in setting::listed() {
        let facts = setting.facts;
        // With the minus that is typed, not the one that is printed: this is what people copy.
        let range = format!("{} to {} {}", facts.min, facts.max, facts.unit.words());
        let doc = format!("{}. {}", sentence_case(facts.label), facts.doc);
        entry(&mut text, (&setting.name, &range), setting.each_side, &doc, width);
    }
    for choice in Choice::ALL {
        let doc = format!("{}.", sentence_case(choice.label()));
        entry(&mut text, (choice.key(), &choice.words().join(", ")), choice.is_per_side(), &doc, width);
    }
    text
}

fn entry(text: &mut String, (name, range): (&str, &str), each_side: bool, doc: &str, width: usize) {
    let sides = if each_side { ", each side" } else { "" };
    let options = textwrap::Options::new(width).initial_indent(INDENT).subsequent_indent(INDENT);
    // Writing to a string cannot fail.
    let _ = writeln!(text, "  {name:NAME_WIDTH$} {range}{sides}\n{}", textwrap::fill(doc, options));
}

fn sentence_case(label: &str) -> String {
    let mut letters = label.chars();
    letters.next().map_or(String::new(), |first| first.to_uppercase().chain(letters).collect())
}
