//! The forms of the reports.

use std::io::{self, Write};

use files::LessonError;
use sim_core::lesson::Lesson;

use super::{json, table};
use crate::output::{Object, Report};

/// A lesson looked into.
pub(super) struct Checked {
    pub(super) name: String,
    pub(super) found: Result<Lesson, LessonError>,
}

/// Lessons looked into.
pub(super) struct CheckReport {
    pub(super) lessons: Vec<Checked>,
    pub(super) answers: bool,
}

/// The lessons that come with the program, by name.
pub(super) struct ListReport {
    pub(super) lessons: Vec<(&'static str, Lesson)>,
}

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
