//! JSON: the fields that other programs rely on, in full precision, one object and nothing else.

use std::io::{self, Write};

use serde::Serialize;

/// Writes a value as one line.
pub(crate) fn write_json(value: &impl Serialize, out: &mut dyn Write) -> io::Result<()> {
    serde_json::to_writer(&mut *out, value)?;
    writeln!(out)
}
