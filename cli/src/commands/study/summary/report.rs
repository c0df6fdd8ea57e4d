//! The forms of the report.

use std::io::{self, Write};

use super::{csv, json, table};
use crate::output::{Form, Report, write_json};
use report::study::summary::StudySummary;

impl Report for StudySummary {
    fn table(&self, width: usize, out: &mut dyn Write) -> io::Result<()> {
        table::write(self, width, out)
    }

    fn csv(&self) -> Option<Form<'_>> {
        Some(Box::new(|out| csv::write(self, out)))
    }

    fn json(&self) -> Option<Form<'_>> {
        Some(Box::new(|out| write_json(&json::object(self), out)))
    }
}
