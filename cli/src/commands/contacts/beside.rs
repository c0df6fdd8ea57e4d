//! A name, and a block of text beside it.

use std::io::{self, Write};

use crate::output::BOLD;

/// Where the text beside an excursion's name begins.
const INDENT: usize = 17;

/// A name, and text set in a block beside it.
pub(super) fn write_beside(name: &str, text: &str, width: usize, out: &mut dyn Write) -> io::Result<()> {
    let indent = " ".repeat(INDENT);
    let options = textwrap::Options::new(width).initial_indent(&indent).subsequent_indent(&indent);
    let block = textwrap::fill(text, options);
    if name.len() < INDENT {
        return writeln!(out, "{BOLD}{name}{BOLD:#}{}", &block[name.len()..]);
    }
    // A name too long for its place has the text below it.
    writeln!(out, "{BOLD}{name}{BOLD:#}\n{block}")
}
