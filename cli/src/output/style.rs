//! Styles of text, shown where a terminal shows them.

use anstyle::{AnsiColor, Effects, Style};

pub(crate) const PLAIN: Style = Style::new();
pub(crate) const BOLD: Style = Style::new().effects(Effects::BOLD);
pub(crate) const FAINT: Style = Style::new().effects(Effects::DIMMED);
/// What is in the way, out of reach or wrong.
pub(crate) const ALARM: Style = AnsiColor::Red.on_default().bold();

/// A space at which a line is not broken, until it is set.
pub(crate) const UNBROKEN: &str = "\u{a0}";
