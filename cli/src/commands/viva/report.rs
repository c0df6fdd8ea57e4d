//! The forms of the report.

use std::io::{self, Write};

use sim_core::viva::{Viva, VivaQuestion};

use super::{json, table};
use crate::output::{Object, Report};

/// Questions with their key.
pub(super) struct VivaReport {
    pub(super) viva: Viva,
    pub(super) questions: Vec<VivaQuestion>,
}

impl Report for VivaReport {
    fn table(&self, width: usize, out: &mut dyn Write) -> io::Result<()> {
        table::write(self, width, out)
    }

    fn json(&self) -> Option<Object<'_>> {
        Some(Object::of(json::object(self)))
    }
}
