//! The forms of a walk through a scene. It is solved while it is written, sample by sample, and never held
//! whole: it says afterwards, by [`SceneWalk::stops`], whether it came to its end.

use std::io::{self, Write};

use super::{json, table};
use crate::output::{Form, Object, Report};
use report::excursion_rows;
use report::walk::SceneWalk;

impl Report for SceneWalk<'_> {
    fn table(&self, width: usize, out: &mut dyn Write) -> io::Result<()> {
        table::write(self, width, out)
    }

    fn csv(&self) -> Option<Form<'_>> {
        Some(Box::new(|out| excursion_rows::write(self, out)))
    }

    fn json(&self) -> Option<Object<'_>> {
        Some(Object::of(json::Whole(self)))
    }
}
