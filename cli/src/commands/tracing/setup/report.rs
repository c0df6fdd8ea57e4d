//! The forms of the report.

use std::io::{self, Write};

use sim_core::tracing::TracingSetup;

use super::{json, table};
use crate::output::{Object, Report};

/// A tracer set up, with the title of its scene.
pub(super) struct SetupReport {
    pub(super) title: String,
    pub(super) setup: TracingSetup,
}

impl Report for SetupReport {
    fn table(&self, width: usize, out: &mut dyn Write) -> io::Result<()> {
        table::write(self, width, out)
    }

    fn json(&self) -> Option<Object<'_>> {
        Some(Object::of(json::object(self)))
    }
}
