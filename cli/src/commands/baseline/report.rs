//! The forms of the report.

use std::io::{self, Write};

use super::checked::BaselineReport;
use super::{csv, json, table};
use crate::output::{Form, Object, Report};

impl Report for BaselineReport {
    fn table(&self, width: usize, out: &mut dyn Write) -> io::Result<()> {
        table::write(self, width, out)
    }

    fn csv(&self) -> Option<Form<'_>> {
        Some(Box::new(|out| csv::write(&self.departures, out)))
    }

    fn json(&self) -> Option<Object<'_>> {
        Some(Object::of(json::object(self)))
    }
}
