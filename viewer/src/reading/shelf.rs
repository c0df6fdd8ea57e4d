//! The scenes and lessons that come with the program, as a list and opened.

use std::sync::Arc;

use files::Given;
use files::built_in::{BuiltIn, LESSONS, SCENES, lesson_named, scene_named};
use sim_core::lesson::LessonFile;
use sim_core::scene::Scene;

use crate::opened::OpenedScene;
use crate::teaching::{Offer, OpenedLesson, Shelf};

/// What there is to choose from.
#[must_use]
pub fn shelf() -> Arc<Shelf> {
    let one_line = |text: &str| text.split_whitespace().collect::<Vec<_>>().join(" ");
    let scene = |own: &BuiltIn| {
        let scene = Scene::from_ron(own.text).ok()?;
        Some(Offer { name: own.name.to_owned(), title: scene.title, about: String::new() })
    };
    let lesson = |own: &BuiltIn| {
        let lesson = LessonFile::from_ron(own.text).ok()?;
        Some(Offer { name: own.name.to_owned(), title: lesson.title, about: one_line(&lesson.about) })
    };
    Arc::new(Shelf {
        scenes: SCENES.iter().filter_map(scene).collect(),
        lessons: LESSONS.iter().filter_map(lesson).collect(),
    })
}

/// A scene that comes with the program.
///
/// # Errors
/// What is wrong with it, or that there is none.
pub fn scene(name: &str) -> Result<OpenedScene, String> {
    let own = scene_named(name).ok_or_else(|| format!("no scene called {name} comes with the program"))?;
    Scene::from_ron(own.text).map(OpenedScene::from).map_err(|error| error.to_string())
}

/// A lesson that comes with the program.
///
/// # Errors
/// As [`scene`].
pub fn lesson(name: &str) -> Result<OpenedLesson, String> {
    let own = lesson_named(name).ok_or_else(|| format!("no lesson called {name} comes with the program"))?;
    // It names no file: what it starts from comes with the program too.
    let lesson =
        files::lesson_from_text(own.text, own.name, &Given::default()).map_err(|error| error.to_string())?;
    Ok(OpenedLesson { lesson: Arc::new(lesson), scans: None, file: None })
}
