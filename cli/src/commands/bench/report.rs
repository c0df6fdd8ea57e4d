//! The forms of the report.

use std::io::{self, Write};

use super::table;
use crate::output::{Object, Report};
use report::bench_walk::BenchWalk;
use report::objects;

impl Report for BenchWalk<'_> {
    fn table(&self, width: usize, out: &mut dyn Write) -> io::Result<()> {
        table::write(self, width, out)
    }

    fn json(&self) -> Option<Object<'_>> {
        Some(Object::of(objects::bench(self)))
    }
}
