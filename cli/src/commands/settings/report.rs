//! The forms of the report.

use std::io::{self, Write};

use super::{csv, json, table};
use crate::output::{Form, Report, USUAL_WIDTH, write_json};

/// The one list of settings.
pub(super) struct SettingsReport;

impl Report for SettingsReport {
    fn table(&self, width: usize, out: &mut dyn Write) -> io::Result<()> {
        write!(out, "{}", table::text(width.min(USUAL_WIDTH)))
    }

    fn csv(&self) -> Option<Form<'_>> {
        Some(Box::new(|out| csv::write(out)))
    }

    fn json(&self) -> Option<Form<'_>> {
        Some(Box::new(|out| write_json(&json::object(), out)))
    }

    fn needs_caution(&self) -> bool {
        false
    }
}
