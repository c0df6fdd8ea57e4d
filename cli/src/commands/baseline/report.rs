//! The forms of the report.

use std::io::{self, Write};

use sim_core::setting::Departure;

use super::{csv, json, table};
use crate::output::{Form, Object, Report};

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

    fn json(&self) -> Option<Object<'_>> {
        Some(Object::of(json::object(&self.title, &self.departures)))
    }

    fn needs_caution(&self) -> bool {
        false
    }
}
