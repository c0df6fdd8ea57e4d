//! The colours of all figures.
//!
//! The colour-blind tell them apart, and they differ in grey too.

pub(super) const BLACK: &str = "#111111";
pub(super) const WHITE: &str = "#ffffff";
/// Lines of the other side.
pub(super) const GREY: &str = "#8a8a8a";
/// Lines to read a scale by.
pub(super) const PALE: &str = "#d4d4d4";
pub(super) const BLUE: &str = "#0060a8";
pub(super) const MIDDLE_BLUE: &str = "#7fb2d8";
pub(super) const PALE_BLUE: &str = "#d3e4f2";
pub(super) const RED: &str = "#c04a00";
/// Millimetres of a plate, every fifth and each: darker than the scale of a panel, to be counted.
pub(super) const PLATE_LINE: &str = "#c9c9c9";
pub(super) const FINE_PLATE_LINE: &str = "#e6e6e6";
