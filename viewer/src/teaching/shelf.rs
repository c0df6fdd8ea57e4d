//! What there is to choose from.

use std::path::PathBuf;
use std::sync::Arc;

use sim_core::lesson::Lesson;

use crate::casts::Scans;

/// Something to choose.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Offer {
    /// Its name.
    pub name: String,
    /// Its title.
    pub title: String,
    /// What it teaches, in short; empty where the title says it.
    pub about: String,
}

/// The scenes and lessons that come with the program.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Shelf {
    /// Scenes.
    pub scenes: Vec<Offer>,
    /// Lessons.
    pub lessons: Vec<Offer>,
}

/// A lesson with all that came with it.
#[derive(Clone, Debug)]
pub struct OpenedLesson {
    /// The lesson.
    pub lesson: Arc<Lesson>,
    /// The casts of its set-up as they were read, where it names files of casts.
    pub scans: Option<Arc<Scans>>,
    /// The file it was read from; none for one that comes with the program.
    pub file: Option<PathBuf>,
}
