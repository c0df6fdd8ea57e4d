//! The forms of the report.

use std::io::{self, Write};

use super::{csv, table};
use crate::output::{Form, Object, Report};
use report::objects;
use report::planned::Planned;

impl Report for Planned {
    fn table(&self, width: usize, out: &mut dyn Write) -> io::Result<()> {
        table::write(self, width, out)
    }

    fn csv(&self) -> Option<Form<'_>> {
        Some(Box::new(|out| csv::write(self, out)))
    }

    fn json(&self) -> Option<Object<'_>> {
        Some(Object::of(objects::plan(self)))
    }
}
