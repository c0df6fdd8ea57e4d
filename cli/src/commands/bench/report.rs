//! The forms of the report.

use std::io::{self, Write};

use ::report::case::WorkedCase;
use sim_core::bench::{Step, Trial};

use super::{json, table};
use crate::output::{Object, Report};

/// A case on the bench, with the guides at trial angles.
pub(super) struct BenchReport<'w> {
    pub(super) worked: &'w WorkedCase,
    pub(super) trial: Trial,
    pub(super) steps: Vec<Step>,
}

impl Report for BenchReport<'_> {
    fn table(&self, width: usize, out: &mut dyn Write) -> io::Result<()> {
        table::write(self, width, out)
    }

    fn json(&self) -> Option<Object<'_>> {
        Some(Object::of(json::object(self)))
    }
}
