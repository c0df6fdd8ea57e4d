//! The forms of the report.

use std::io::{self, Write};

use super::{json, table};
use crate::output::{Form, Report, write_json};
use report::case::WorkedCase;

impl Report for WorkedCase {
    fn table(&self, width: usize, out: &mut dyn Write) -> io::Result<()> {
        table::write(self, width, out)
    }

    fn json(&self) -> Option<Form<'_>> {
        Some(Box::new(|out| write_json(&json::object(self), out)))
    }
}
