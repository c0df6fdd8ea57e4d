//! A scene as it was opened, and what a state asks of whoever shows it.

use std::path::PathBuf;
use std::sync::Arc;

use report::sheet::Kind;
use sim_core::scene::Scene;
use sim_core::tracing::TracingSetup;
use sim_core::viva::VivaLevel;

use crate::casts::Scans;
use crate::session::Offer;
use crate::writing::Writing;

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
#[derive(Clone, Debug, PartialEq)]
pub enum Request {
    /// Show this scene, with the casts that it names beside this file; the state’s `open_read` takes the answer.
    SetUp {
        /// The scene.
        scene: Box<Scene>,
        /// The file beside which its casts lie.
        beside: Option<PathBuf>,
    },
    /// Draw a seed that nobody can guess, for a patient to be dealt: `Action::Deal`.
    DrawSeed,
    /// Write the sheet of the case on the bench; the state’s `written` takes the answer.
    WriteSheet(Kind),
    /// Write the template of the drawn tracing; the state’s `written` takes the answer.
    WriteTemplate(Box<TracingSetup>),
    /// Read this file; the state’s `open_read` takes the answer.
    Open(PathBuf),
    /// Read this file to be kept as B; the state’s `beside_read` takes the answer.
    OpenBeside(PathBuf),
    /// Read this file for a session that is taken up; the state’s `take_up` takes the answer.
    OpenFor(PathBuf, Box<Offer>),
    /// Write the scene to this file; the state’s `saved`, `not_saved` or `ask_to_replace` takes the answer.
    Save {
        /// The file.
        path: PathBuf,
        /// A file that is there may be replaced.
        replace: bool,
        /// The window closes when it is saved.
        then_close: bool,
    },
    /// Write this; the state’s `begun_to_write` and `went_out`, or `ask_to_write_over`, take the answer.
    Write {
        /// What, and into which file.
        writing: Writing,
        /// A file that is there may be replaced.
        replace: bool,
    },
    /// Let a file be chosen in a dialog of the desktop; the state’s `browsed` takes the answer.
    Browse {
        /// A name to save under, not a file to open.
        to_save: bool,
    },
    /// Make a link that carries what is shown.
    Send,
    /// Throw away the session of this name.
    Forget(String),
    /// Open the scene of this name that comes with the program; the state’s `open_read` takes the answer.
    Scene(String),
    /// Open the lesson of this name that comes with the program; the state’s `lesson_read` takes the answer.
    Lesson(String),
    /// Draw a seed for a viva of this level; the state’s `begin_viva` takes the answer.
    Viva(VivaLevel),
}
