//! The forms of the report.

use std::io::{self, Write};

use super::{csv, table};
use crate::output::{Form, Object, Report};
use report::contacts::ContactsReport;
use report::objects;

impl Report for ContactsReport {
    fn table(&self, width: usize, out: &mut dyn Write) -> io::Result<()> {
        table::write(self, width, out)
    }

    fn csv(&self) -> Option<Form<'_>> {
        Some(Box::new(|out| csv::write(self, out)))
    }

    fn json(&self) -> Option<Object<'_>> {
        Some(Object::of(objects::contacts(self)))
    }
}
