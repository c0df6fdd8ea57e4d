//! The forms of the report.

use std::io::{self, Write};

use super::walked::BenchReport;
use super::{json, table};
use crate::output::{Object, Report};

impl Report for BenchReport<'_> {
    fn table(&self, width: usize, out: &mut dyn Write) -> io::Result<()> {
        table::write(self, width, out)
    }

    fn json(&self) -> Option<Object<'_>> {
        Some(Object::of(json::object(self)))
    }
}
