//! What the figures of a study share: a width, a heading, and a scale to read across.

use super::axis::{Axis, NUMBER, width};
use crate::figures::colour::PALE;
use crate::figures::figure::Figure;
use crate::figures::letters::{BOLD_LETTER, LETTER};
use crate::figures::print::Print;
use crate::figures::svg::{Anchor, At, Stroke, Svg};

pub(in crate::figures) const EDGE: f64 = 10.0;
pub(in crate::figures) const TEXT: f64 = 10.0;
pub(super) const HEAD: f64 = 12.0;
pub(in crate::figures) const LINE: f64 = 13.5;

/// What is drawn: words and unit.
#[derive(Clone, Debug, PartialEq)]
pub struct Quantity {
    /// What it is and where it is measured.
    pub words: String,
    /// The same without where it is measured.
    pub what: String,
    /// `mm` or `°`; nothing for a bare number.
    pub unit: &'static str,
    /// Whether it is a clearance: below 0 a cusp interferes.
    pub is_clearance: bool,
}

impl Quantity {
    /// For an axis: `clearance at 36 mesiobuccal, mm` on lines no wider than this, the unit never on one of its own.
    pub(super) fn label(&self, width: f64) -> Vec<String> {
        let unit = if self.unit.is_empty() { String::new() } else { format!(", {}", self.unit) };
        // Every line leaves room for the unit, so that the last one has it.
        let room = unit.chars().count() as f64 * TEXT * LETTER;
        let mut lines = wrapped(&self.what, width - room, TEXT, false);
        if let Some(last) = lines.last_mut() {
            last.push_str(&unit);
        }
        lines
    }
}

/// Lines no wider than this.
pub(in crate::figures) fn wrapped(text: &str, width: f64, size: f64, bold: bool) -> Vec<String> {
    let letter = if bold { BOLD_LETTER } else { LETTER };
    let letters = (width / (size * letter)).floor().max(8.0) as usize;
    // Before it is wrapped: what is written instead of a letter that is not seen is longer than it, and an end of a line
    // in a title is none of the figure's.
    textwrap::wrap(&words::quoted::escaped(text), letters)
        .into_iter()
        .map(std::borrow::Cow::into_owned)
        .collect()
}

/// Writes lines from a baseline downward.
pub(in crate::figures) fn lines(svg: &mut Svg, at: At, bold: bool, anchor: Anchor, lines: &[String]) {
    let (size, step) = if bold { (HEAD, LINE + 2.0) } else { (TEXT, LINE) };
    for (index, line) in lines.iter().enumerate() {
        svg.words((at.0, at.1 + index as f64 * step), size, bold, anchor, line);
    }
}

/// Title and what stands under it, and how wide the figure is that they are of.
pub(in crate::figures) struct Heading {
    /// Width of the figure.
    pub(in crate::figures) page: f64,
    words: (String, String),
    title: Vec<String>,
    under: Vec<String>,
}

impl Heading {
    /// Title and explanation, which stand above the figure or, as a caption, elsewhere.
    pub(super) fn new(title: &str, under: &str, print: &Print) -> Self {
        let (drawn_title, drawn_under) = if print.titled { (title, under) } else { ("", "") };
        Self { words: (title.to_owned(), under.to_owned()), ..Self::drawn(drawn_title, drawn_under, print) }
    }

    /// The same where the figure cannot be read without what stands under the title.
    pub(in crate::figures) fn with_under(title: &str, under: &str, print: &Print) -> Self {
        let drawn_title = if print.titled { title } else { "" };
        Self { words: (title.to_owned(), String::new()), ..Self::drawn(drawn_title, under, print) }
    }

    fn drawn(title: &str, under: &str, print: &Print) -> Self {
        let page = print.units();
        let width = page - 2.0 * EDGE;
        let lines = |words: &str, size, bold| {
            if words.is_empty() { Vec::new() } else { wrapped(words, width, size, bold) }
        };
        Self {
            page,
            words: Default::default(),
            title: lines(title, HEAD, true),
            under: lines(under, TEXT, false),
        }
    }

    pub(in crate::figures) fn height(&self) -> f64 {
        let above = if self.title.is_empty() && self.under.is_empty() { 0.0 } else { 8.0 };
        above + self.title.len() as f64 * (LINE + 2.0) + self.under.len() as f64 * LINE + 6.0
    }

    pub(in crate::figures) fn draw(&self, svg: &mut Svg) {
        lines(svg, (EDGE, 18.0), true, Anchor::Start, &self.title);
        let below = 18.0 + self.title.len() as f64 * (LINE + 2.0);
        lines(svg, (EDGE, below), false, Anchor::Start, &self.under);
    }

    /// What was drawn under it.
    pub(in crate::figures) fn figure(self, svg: Svg, height: f64) -> Figure {
        let (title, explanation) = self.words;
        Figure { svg: svg.end(), width: self.page, height, title, explanation }
    }
}

/// A first letter as at the beginning of a sentence.
pub(in crate::figures) fn capital(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

/// A scale to read across: lines down the panel, numbers under it, none of which runs off a page so wide.
pub(super) fn scale_below(svg: &mut Svg, axis: &Axis, (top, height): At, page: f64) {
    for (value, words) in axis.across().ticks() {
        let x = axis.at(value);
        svg.line((x, top), (x, top + height), Stroke::new(PALE, 0.7));
        // A number at the edge of the page stays on it.
        let farthest = page - 2.0 - width(&words) / 2.0;
        svg.words((x.min(farthest), top + height + 13.0), NUMBER, false, Anchor::Middle, &words);
    }
}

/// Room for the factors' names at the left of a page so wide.
pub(super) fn room_for_names(page: f64) -> f64 {
    (page * 0.32).min(230.0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn a_unit_never_stands_on_a_line_of_its_own(
            words in prop::collection::vec("[a-z0-9]{1,14}", 1..9), unit in prop::sample::select(vec!["°", "mm", ""]),
            width in 90.0..700.0,
        ) {
            let what = words.join(" ");
            let of = Quantity { words: what.clone(), what, unit, is_clearance: false };
            let lines = of.label(width);
            let rest = lines.last().and_then(|last| last.strip_suffix(unit));
            prop_assert!(rest.is_some_and(|rest| rest.contains(char::is_alphanumeric)), "{:?}", lines);
            prop_assert!(lines.iter().all(|line| !line.trim_matches([',', ' ']).is_empty() && line != unit));
        }
    }
}
