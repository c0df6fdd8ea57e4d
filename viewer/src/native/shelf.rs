//! The scenes and lessons that come with the program, as a list and opened.

use std::hash::{BuildHasher as _, Hasher as _, RandomState};
use std::path::Path;
use std::sync::Arc;

use files::built_in::{LESSONS, SCENES, lesson_named, scene_named};
use files::{LessonError, Source};
use sim_core::lesson::LessonFile;
use sim_core::scene::Scene;

use crate::opened::OpenedScene;
use crate::teaching::{Offer, OpenedLesson, Shelf};

/// What there is to choose from.
#[must_use]
pub fn shelf() -> Arc<Shelf> {
    let one_line = |text: &str| text.split_whitespace().collect::<Vec<_>>().join(" ");
    let scene = |own: &files::built_in::BuiltIn| {
        let scene = Scene::from_ron(own.text).ok()?;
        Some(Offer { name: own.name.to_owned(), title: scene.title, about: String::new() })
    };
    let lesson = |own: &files::built_in::BuiltIn| {
        let lesson = LessonFile::from_ron(own.text).ok()?;
        Some(Offer { name: own.name.to_owned(), title: lesson.title, about: one_line(&lesson.about) })
    };
    Arc::new(Shelf {
        scenes: SCENES.iter().filter_map(scene).collect(),
        lessons: LESSONS.iter().filter_map(lesson).collect(),
    })
}

/// A scene that comes with the program.
pub(super) fn scene(name: &str) -> Result<OpenedScene, String> {
    let own = scene_named(name).ok_or_else(|| format!("no scene called {name} comes with the program"))?;
    Scene::from_ron(own.text).map(OpenedScene::from).map_err(|error| error.to_string())
}

/// A lesson that comes with the program.
///
/// # Errors
/// What is wrong with it, or that there is none.
pub fn lesson(name: &str) -> Result<OpenedLesson, String> {
    let own = lesson_named(name).ok_or_else(|| format!("no lesson called {name} comes with the program"))?;
    read(&Source::CompiledIn { name: own.name, text: own.text }, None).map_err(|error| error.to_string())
}

/// A lesson from its file.
pub(super) fn lesson_file(path: &Path) -> Result<OpenedLesson, LessonError> {
    read(&Source::File(path.to_owned()), Some(path))
}

fn read(source: &Source, path: Option<&Path>) -> Result<OpenedLesson, LessonError> {
    let lesson = files::lesson(source)?;
    Ok(OpenedLesson { lesson: Arc::new(lesson), scans: None, file: path.map(Path::to_owned) })
}

/// A seed that nobody can guess: the standard library keys its hashes from the system's randomness. Small enough
/// to be read aloud.
pub(super) fn drawn_seed() -> u64 {
    const MOST: u64 = 1_000_000;
    RandomState::new().build_hasher().finish() % MOST
}
