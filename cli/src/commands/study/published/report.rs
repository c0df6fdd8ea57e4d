//! The forms of the report.

use std::io::{self, Write};

use super::{csv, json, table};
use crate::output::{Form, Object, Report};

/// The list of published distributions.
pub(super) struct PublishedReport;

impl Report for PublishedReport {
    fn table(&self, width: usize, out: &mut dyn Write) -> io::Result<()> {
        table::write(width, out)
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
