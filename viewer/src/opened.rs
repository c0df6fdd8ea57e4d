//! A scene as it was opened, and what a state asks of whoever shows it.

use std::path::PathBuf;
use std::sync::Arc;

use sim_core::scene::Scene;
use sim_core::viva::VivaLevel;

use crate::casts::Scans;

/// A scene with all that came with it.
#[derive(Clone, Debug)]
pub struct OpenedScene {
    /// The scene.
    pub scene: Scene,
    /// Its casts as they were read, where it names files of casts.
    pub scans: Option<Arc<Scans>>,
    /// The file it was read from; none for a scene of the program's own.
    pub file: Option<PathBuf>,
}

impl From<Scene> for OpenedScene {
    /// A scene that comes with nothing.
    fn from(scene: Scene) -> Self {
        Self { scene, scans: None, file: None }
    }
}

/// What a state cannot do by itself. Whoever shows it does it, and gives it the answer.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Request {
    /// Read this file; the state’s `open_read` takes the answer.
    Open(PathBuf),
    /// Open the scene of this name that comes with the program; the state’s `open_read` takes the answer.
    Scene(String),
    /// Open the lesson of this name that comes with the program; the state’s `lesson_read` takes the answer.
    Lesson(String),
    /// Draw a seed for a viva of this level; the state’s `begin_viva` takes the answer.
    Viva(VivaLevel),
}
