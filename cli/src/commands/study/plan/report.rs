//! The forms of the report.

use std::io::{self, Write};

use study_run::{Estimate, Loaded};

use super::{json, table};
use crate::output::{Object, Report};

/// What a run of a study will take.
pub(super) struct PlanReport<'s> {
    pub(super) study: &'s Loaded,
    pub(super) estimate: &'s Estimate,
    /// Bytes free on the disk of the study, where a table goes if nothing else is said.
    pub(super) free: Option<u64>,
}

impl Report for PlanReport<'_> {
    fn table(&self, width: usize, out: &mut dyn Write) -> io::Result<()> {
        table::write(self.study, self.estimate, self.free, width, out)
    }

    fn json(&self) -> Option<Object<'_>> {
        Some(Object::of(json::object(self.study, self.estimate, self.free)))
    }
}
