//! The forms of the reports.

use std::io::{self, Write};

use super::checked::{CheckReport, ListReport};
use super::{json, table};
use crate::output::{Object, Report};

impl Report for CheckReport {
    fn table(&self, width: usize, out: &mut dyn Write) -> io::Result<()> {
        table::checked(self, width, out)
    }

    fn json(&self) -> Option<Object<'_>> {
        Some(Object::of(json::checked(self)))
    }
}

impl Report for ListReport {
    fn table(&self, width: usize, out: &mut dyn Write) -> io::Result<()> {
        table::listed(self, width, out)
    }

    fn json(&self) -> Option<Object<'_>> {
        Some(Object::of(json::listed(self)))
    }

    fn needs_caution(&self) -> bool {
        false
    }
}
