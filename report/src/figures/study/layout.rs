//! What the figures of a study share: a width, a heading, and a scale to read across.

use super::axis::{Axis, NUMBER, width};
use crate::figures::colour::PALE;
use crate::figures::figure::Figure;
use crate::figures::letters::{BOLD_LETTER, LETTER};
use crate::figures::svg::{Anchor, At, Stroke, Svg};

pub(in crate::figures) const WIDTH: f64 = 720.0;
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
}

impl Quantity {
    /// For an axis: `clearance at 36 mesiobuccal, mm`.
    pub(super) fn label(&self) -> String {
        if self.unit.is_empty() { self.what.clone() } else { format!("{}, {}", self.what, self.unit) }
    }
}

/// Lines no wider than this.
pub(in crate::figures) fn wrapped(words: &str, width: f64, size: f64, bold: bool) -> Vec<String> {
    let letter = if bold { BOLD_LETTER } else { LETTER };
    let letters = (width / (size * letter)).floor().max(8.0) as usize;
    textwrap::wrap(words, letters).into_iter().map(std::borrow::Cow::into_owned).collect()
}

/// Writes lines from a baseline downward.
pub(in crate::figures) fn lines(svg: &mut Svg, at: At, bold: bool, anchor: Anchor, lines: &[String]) {
    let (size, step) = if bold { (HEAD, LINE + 2.0) } else { (TEXT, LINE) };
    for (index, line) in lines.iter().enumerate() {
        svg.words((at.0, at.1 + index as f64 * step), size, bold, anchor, line);
    }
}

/// Title and what stands under it.
pub(in crate::figures) struct Heading {
    title: Vec<String>,
    under: Vec<String>,
}

impl Heading {
    pub(in crate::figures) fn new(title: &str, under: &str) -> Self {
        let width = WIDTH - 2.0 * EDGE;
        Self { title: wrapped(title, width, HEAD, true), under: wrapped(under, width, TEXT, false) }
    }

    pub(in crate::figures) fn height(&self) -> f64 {
        8.0 + self.title.len() as f64 * (LINE + 2.0) + self.under.len() as f64 * LINE + 6.0
    }

    pub(in crate::figures) fn draw(&self, svg: &mut Svg) {
        lines(svg, (EDGE, 18.0), true, Anchor::Start, &self.title);
        let below = 18.0 + self.title.len() as f64 * (LINE + 2.0);
        lines(svg, (EDGE, below), false, Anchor::Start, &self.under);
    }
}

/// A first letter as at the beginning of a sentence.
pub(in crate::figures) fn capital(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

/// A scale to read across: lines down the panel, numbers under it.
pub(super) fn scale_below(svg: &mut Svg, axis: &Axis, top: f64, height: f64) {
    for (value, words) in axis.across().ticks() {
        let x = axis.at(value);
        svg.line((x, top), (x, top + height), Stroke::new(PALE, 0.7));
        // A number at the edge of the page stays on it.
        let farthest = WIDTH - 2.0 - width(&words) / 2.0;
        svg.words((x.min(farthest), top + height + 13.0), NUMBER, false, Anchor::Middle, &words);
    }
}

pub(super) fn figure(svg: Svg, height: f64) -> Figure {
    Figure { svg: svg.end(), width: WIDTH, height }
}
