//! The forms of the report.

use std::io::{self, Write};

use report::objects;
use sim_core::doubt::Doubt;

use super::table;
use crate::output::{Object, Report};

/// How far to trust a case.
pub(super) struct DoubtReport {
    /// The case's.
    pub(super) title: String,
    pub(super) doubt: Doubt,
    pub(super) seed: u64,
}

impl Report for DoubtReport {
    fn table(&self, width: usize, out: &mut dyn Write) -> io::Result<()> {
        table::write(&self.title, &self.doubt, self.seed, width, out)
    }

    fn json(&self) -> Option<Object<'_>> {
        Some(Object::of(objects::doubt(&self.title, &self.doubt, self.seed)))
    }
}
