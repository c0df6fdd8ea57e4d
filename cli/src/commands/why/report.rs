//! The forms of an account.

use std::io::{self, Write};

use report::account::AccountReport;

use super::{json, table};
use crate::output::{Object, Report};

impl Report for AccountReport {
    fn table(&self, width: usize, out: &mut dyn Write) -> io::Result<()> {
        table::write(self, width, out)
    }

    fn json(&self) -> Option<Object<'_>> {
        Some(Object::of(json::object(self)))
    }
}
