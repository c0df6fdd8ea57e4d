//! A lesson from its file, with the scene that it starts from.

use std::path::Path;

use sim_core::lesson::{Fault, Lesson, LessonFile, SetUp};
use sim_core::scene::Scene;
use sim_core::text::{ReadError, place_of};

use crate::built_in::{SCENES, scene_named};
use crate::folder::{Folder, FolderOf};
use crate::scene::{SceneCastsError, of_scene};
use crate::source::Source;
use crate::text::{TextError, from_text, read_in, without_mark};

/// Why a lesson cannot be given.
#[derive(Debug, thiserror::Error)]
pub enum LessonError {
    /// Its text cannot be read.
    #[error(transparent)]
    Text(#[from] TextError),
    /// No scene of that name comes with the program.
    #[error(
        "{name}:{line}:{column}: no scene called `{given}` comes with the program; there are {}",
        known()
    )]
    NoSuchScene {
        /// The lesson.
        name: String,
        /// Line of the set-up.
        line: usize,
        /// Its column.
        column: usize,
        /// What was given.
        given: String,
    },
    /// The scene of its set-up.
    #[error("{error} (the set-up of {name})")]
    Scene {
        /// The lesson.
        name: String,
        /// What is wrong with the scene.
        error: TextError,
    },
    /// The casts of its set-up.
    #[error("{name}: casts of the set-up: {error}")]
    Casts {
        /// The lesson.
        name: String,
        /// What is wrong with them.
        error: Box<SceneCastsError>,
    },
    /// It says something that is wrong.
    #[error("{}", listed(.name, .faults))]
    Faults {
        /// The lesson.
        name: String,
        /// All that is wrong, in the order of its lines.
        faults: Vec<ReadError>,
    },
}

fn known() -> String {
    SCENES.iter().map(|scene| scene.name).collect::<Vec<_>>().join(", ")
}

fn listed(name: &str, faults: &[ReadError]) -> String {
    let line = |fault: &ReadError| format!("{name}:{}:{}: {}", fault.line, fault.column, fault.what);
    faults.iter().map(line).collect::<Vec<_>>().join("\n")
}

impl LessonError {
    /// Line, column and what is wrong, for each fault that has a place in the lesson's text.
    #[must_use]
    pub fn faults(&self) -> Vec<(usize, usize, String)> {
        match self {
            Self::Text(TextError::Unread { error, .. }) => {
                let message = error.to_string();
                let place = format!("line {}, column {}: ", error.line, error.column);
                let what = message.strip_prefix(&place).unwrap_or(&message).to_owned();
                vec![(error.line, error.column, what)]
            }
            Self::Faults { faults, .. } => {
                faults.iter().map(|fault| (fault.line, fault.column, fault.what.clone())).collect()
            }
            Self::NoSuchScene { line, column, given, .. } => {
                let what = format!("no scene called `{given}` comes with the program; there are {}", known());
                vec![(*line, *column, what)]
            }
            Self::Text(_) | Self::Scene { .. } | Self::Casts { .. } => Vec::new(),
        }
    }
}

/// Reads a lesson with the scene that it starts from.
///
/// # Errors
/// [`LessonError`] with every fault and its line.
pub fn lesson(source: &Source) -> Result<Lesson, LessonError> {
    lesson_from_text(&source.text::<LessonFile>()?, &source.name(), source.folder())
}

/// As [`lesson`], of a text that was read already; `name` is how messages call it.
///
/// # Errors
/// As [`lesson`].
pub fn lesson_from_text<F: Folder + ?Sized>(
    text: &str,
    name: &str,
    folder: &F,
) -> Result<Lesson, LessonError> {
    let text = without_mark(text);
    let file: LessonFile = from_text(text, name)?;
    // A scene in full looks for its casts where the lesson looks for its files.
    let (mut scene, scene_file) = match &file.set_up {
        SetUp::Here(scene) => ((**scene).clone(), Path::new("")),
        SetUp::Scene(given) => {
            let Some(found) = scene_named(given) else {
                let (line, column) = place_of("set_up", text);
                let (name, given) = (name.to_owned(), given.clone());
                return Err(LessonError::NoSuchScene { name, line, column, given });
            };
            (in_the_scene(name, from_text(found.text, found.name))?, Path::new(""))
        }
        SetUp::File(file) => {
            let file = Path::new(file);
            (in_the_scene(name, read_in(folder, file))?, file)
        }
    };
    let casts = of_scene(&mut scene, &FolderOf::new(scene_file, folder))
        .map_err(|error| LessonError::Casts { name: name.to_owned(), error: Box::new(error) })?;
    Lesson::of(&file, scene, casts.map(|found| found.casts)).map_err(|faults| {
        let mut faults: Vec<ReadError> = faults.iter().map(|fault: &Fault| fault.placed(text)).collect();
        faults.sort_by_key(|fault| (fault.line, fault.column));
        LessonError::Faults { name: name.to_owned(), faults }
    })
}

/// Whether a text is a lesson, or is more nearly one than a scene.
#[must_use]
pub fn is_lesson(text: &str) -> bool {
    let bare = without_mark(text);
    match (LessonFile::from_ron(bare), Scene::from_ron(bare)) {
        (Ok(_), _) => true,
        (_, Ok(_)) => false,
        // The fields of the other end its reading early.
        (Err(lesson), Err(scene)) => (lesson.line, lesson.column) > (scene.line, scene.column),
    }
}

fn in_the_scene(name: &str, scene: Result<Scene, TextError>) -> Result<Scene, LessonError> {
    scene.map_err(|error| LessonError::Scene { name: name.to_owned(), error })
}
