//! The forms of the reports.

use std::io::{self, Write};
use std::path::PathBuf;

use sim_core::practice::{DealNumber, Mark};

use super::{json, table};
use crate::output::{Object, Report};

/// What was dealt.
pub(super) struct DealReport {
    pub(super) number: DealNumber,
    pub(super) handed_out: Vec<PathBuf>,
    pub(super) key: PathBuf,
    /// Whether a person chose the seed.
    pub(super) seed_given: bool,
}

impl Report for DealReport {
    fn table(&self, width: usize, out: &mut dyn Write) -> io::Result<()> {
        table::dealt(self.number, &self.handed_out, &self.key, self.seed_given, width, out)
    }
}

impl Report for Mark {
    fn table(&self, width: usize, out: &mut dyn Write) -> io::Result<()> {
        table::marked(self, width, out)
    }

    fn json(&self) -> Option<Object<'_>> {
        Some(Object::of(json::object(self)))
    }
}
