//! Words to the person at the terminal, on standard error. A standard error that takes nothing is
//! no reason to stop.

use std::fmt::Display;
use std::io::Write as _;

use anstyle::{AnsiColor, Style};

const RED: Style = AnsiColor::Red.on_default().bold();
const YELLOW: Style = AnsiColor::Yellow.on_default().bold();

/// Says what went wrong.
pub(crate) fn error(what: &dyn Display) {
    let _ = writeln!(anstream::stderr(), "{RED}error:{RED:#} {what}");
}

/// Says what is wrong with the command line.
pub(crate) fn mistake(what: &clap::Error) {
    let _ = write!(anstream::stderr(), "{}", what.render().ansi());
}

/// Says what may not be as it was meant.
pub(crate) fn warning(what: &dyn Display) {
    let _ = writeln!(anstream::stderr(), "{YELLOW}warning:{YELLOW:#} {what}");
}

/// Says what helps.
pub(crate) fn hint(what: &dyn Display) {
    let _ = writeln!(anstream::stderr(), "{what}");
}
