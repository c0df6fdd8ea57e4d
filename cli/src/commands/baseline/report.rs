//! The forms of the report.

use std::io::{self, Write};

use sim_core::instrument::Baseline;
use sim_core::setting::{ChecklistItem, Departure};

use super::{csv, json, table};
use crate::output::{Form, Object, Report};

/// The examiner's checklist of a scene's instrument, and every setting that departs from the baseline.
pub(super) struct BaselineReport {
    pub(super) title: String,
    pub(super) baseline: Baseline,
    /// Whether the baseline is the compiled-in example, since the scene has none of its own.
    pub(super) is_example: bool,
    pub(super) checklist: Vec<ChecklistItem>,
    pub(super) departures: Vec<Departure>,
}

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
