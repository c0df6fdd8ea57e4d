//! The forms of the report.

use std::io::{self, Write};

use sim_core::setting::Departure;

use super::{csv, json, table};
use crate::output::{Form, Report, write_json};

/// Every setting of a scene that departs from the zeroed baseline.
pub(super) struct BaselineReport {
    pub(super) title: String,
    pub(super) departures: Vec<Departure>,
}

impl Report for BaselineReport {
    fn table(&self, _width: usize, out: &mut dyn Write) -> io::Result<()> {
        table::write(&self.title, &self.departures, out)
    }

    fn csv(&self) -> Option<Form<'_>> {
        Some(Box::new(|out| csv::write(&self.departures, out)))
    }

    fn json(&self) -> Option<Form<'_>> {
        Some(Box::new(|out| write_json(&json::object(&self.title, &self.departures), out)))
    }

    fn needs_caution(&self) -> bool {
        false
    }
}
