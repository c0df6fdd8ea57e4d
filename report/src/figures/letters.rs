//! How wide words are, before they are drawn.
//!
//! Each is a mean width of a letter as part of the typeface's size, a little more than the typeface's
//! own so that a line made by it does not run over: a figure is laid out before its letters are set,
//! and opened where the typeface may not be.

/// Ordinary words of DejaVu Sans.
pub(crate) const LETTER: f64 = 0.61;
/// Bold words of DejaVu Sans.
pub(crate) const BOLD_LETTER: f64 = 0.70;
/// Digits and the minus of DejaVu Sans, which are wider than the mean letter.
pub(crate) const DIGIT: f64 = 0.66;
/// Ordinary words of DejaVu Sans Condensed, in which the sheet is set.
#[cfg(feature = "paper")]
pub(crate) const NARROW_LETTER: f64 = 0.475;
/// Bold words of DejaVu Sans Condensed.
#[cfg(feature = "paper")]
pub(crate) const NARROW_BOLD_LETTER: f64 = 0.6;
/// Bold capitals of DejaVu Sans Condensed, as in a verdict.
#[cfg(feature = "paper")]
pub(crate) const NARROW_BOLD_CAPITAL: f64 = 0.781;

/// Width of words at a size.
pub(crate) fn width(words: &str, size: f64, letter: f64) -> f64 {
    words.chars().count() as f64 * size * letter
}
