//! The forms of the report.

use std::io::{self, Write};

use super::table;
use crate::output::{Object, Report};
use report::case::WorkedCase;
use report::objects;

impl Report for WorkedCase {
    fn table(&self, width: usize, out: &mut dyn Write) -> io::Result<()> {
        table::write(self, width, out)
    }

    fn json(&self) -> Option<Object<'_>> {
        Some(Object::of(objects::program(self)))
    }
}
