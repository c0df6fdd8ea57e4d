//! What is said of lessons, whatever its form.

use files::LessonError;
use sim_core::lesson::Lesson;

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
