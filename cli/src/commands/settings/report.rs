//! The forms of the report.

use std::io::{self, Write};

use super::{csv, json, table};
use crate::output::{Form, Object, Report, USUAL_WIDTH};

/// The one list of settings.
pub(super) struct SettingsReport;

impl Report for SettingsReport {
    fn table(&self, width: usize, out: &mut dyn Write) -> io::Result<()> {
        write!(out, "{}", table::text(width.min(USUAL_WIDTH)))
    }

    fn csv(&self) -> Option<Form<'_>> {
        Some(Box::new(|out| csv::write(out)))
    }

    fn json(&self) -> Option<Object<'_>> {
        Some(Object::of(json::object()))
    }

    fn needs_caution(&self) -> bool {
        false
    }
}
