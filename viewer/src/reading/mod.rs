//! From a file's name and its bytes to what it holds, and from there into the state.
//!
//! Bytes come out of a [`files::Folder`]: on a desktop the path of a folder is one, in a page of a browser the files
//! that a person has [`files::Given`] to it. Nothing here knows which it is.
//!
//! | file | what |
//! | --- | --- |
//! | here | a file, whatever it holds |
//! | `answering` | requests for files answered |
//! | `shelf` | scenes and lessons that come with the program |
//! | `error` | what is wrong with a file |

mod answering;
mod error;
pub mod shelf;
#[cfg(test)]
mod tests;

use std::path::{Path, PathBuf};
use std::sync::Arc;

use files::cast::{CastFileError, read_in, told_apart};
use files::{CaseOrScene, Folder, FolderOf, Given};
use report::case::WorkedCase;
use sim_core::cusp::Arch;
use sim_core::record::Case;
use sim_core::scene::Scene;
use sim_core::text;

pub use answering::answer;
pub use error::FileError;

use crate::casts::Scans;
use crate::opened::OpenedScene;
use crate::plate::Under;
use crate::teaching::OpenedLesson;

/// What a file holds.
#[derive(Debug)]
pub enum Held {
    /// A scene.
    Scene(Box<OpenedScene>),
    /// A case.
    Case(Box<WorkedCase>),
    /// A tracing.
    Tracing(Box<Under>),
    /// A lesson.
    Lesson(Box<OpenedLesson>),
}

/// Reads a file, whatever it holds: by its ending a tracing, by what stands in it a lesson, a case or a scene, with all
/// that it names.
///
/// # Errors
/// [`FileError`] with the file's name, and with line and column where its text is wrong.
pub fn any<F: Folder + ?Sized>(folder: &F, file: &Path) -> Result<Held, FileError> {
    let ending = file.extension().map(|ending| ending.to_string_lossy().to_lowercase());
    match ending.as_deref() {
        Some("csv") => return tracing(folder, file).map(|under| Held::Tracing(Box::new(under))),
        Some("png" | "jpg" | "jpeg") => return Err(FileError::Photo { file: name(folder, file) }),
        Some("stl" | "ply" | "obj") => return Err(FileError::CastAlone { file: name(folder, file) }),
        _ => {}
    }
    let text = files::text_in::<Case, F>(folder, file).map_err(FileError::Text)?;
    let name = name(folder, file);
    if files::is_lesson(&text) {
        let lesson = files::lesson_from_text(&text, &name, &FolderOf::new(file, folder))
            .map_err(|error| FileError::Lesson(Box::new(error)))?;
        let opened = OpenedLesson { lesson: Arc::new(lesson), scans: None, file: Some(file.to_owned()) };
        return Ok(Held::Lesson(Box::new(opened)));
    }
    match files::case_or_scene_from_text(&text, &name).map_err(FileError::Text)? {
        CaseOrScene::Case(case) => Ok(Held::Case(Box::new(worked(*case, &name, &text)?))),
        CaseOrScene::Scene(scene) => {
            with_scans(folder, file, *scene).map(|opened| Held::Scene(Box::new(opened)))
        }
    }
}

/// The file to open of several that were given at once: a lesson before what it names, a text before casts; else the
/// first in the order of their names.
#[must_use]
pub fn to_open<'g>(given: &'g Given, names: &[PathBuf]) -> Option<&'g Path> {
    let rank = |name: &&Path| match name
        .extension()
        .map(|ending| ending.to_string_lossy().to_lowercase())
        .as_deref()
    {
        Some("ron") => {
            let is_lesson =
                files::text_in::<Case, Given>(given, name).is_ok_and(|text| files::is_lesson(&text));
            u8::from(!is_lesson)
        }
        Some("csv") => 2,
        Some("stl" | "ply" | "obj") => 4,
        _ => 3,
    };
    given.names().filter(|name| names.iter().any(|other| other == name)).min_by_key(rank)
}

/// Reads a scene with its casts.
///
/// # Errors
/// As [`any`].
pub fn scene<F: Folder + ?Sized>(folder: &F, file: &Path) -> Result<OpenedScene, FileError> {
    with_scans(folder, file, files::read_in(folder, file).map_err(FileError::Text)?)
}

/// How messages call a file.
fn name<F: Folder + ?Sized>(folder: &F, file: &Path) -> String {
    words::quoted::path(&folder.path(file))
}

fn with_scans<F: Folder + ?Sized>(folder: &F, file: &Path, scene: Scene) -> Result<OpenedScene, FileError> {
    let scans = scans(&scene, &FolderOf::new(file, folder))
        .map_err(|error| FileError::Cast { file: name(folder, file), source: Box::new(error) })?;
    Ok(OpenedScene { scene, scans: scans.map(Arc::new), file: Some(file.to_owned()) })
}

/// The casts that a scene names, from its own folder; `None` where it names none.
fn scans<F: Folder + ?Sized>(scene: &Scene, folder: &F) -> Result<Option<Scans>, CastFileError> {
    let Some(casts) = &scene.casts else { return Ok(None) };
    told_apart(folder, casts)?;
    let mut notes = Vec::new();
    let mut read = |file: &str, arch| {
        let file = Path::new(file);
        let name = name(folder, file);
        let cast = read_in(folder, file, arch, casts.unit)?;
        notes.extend(cast.warnings().into_iter().map(|warning| format!("{name}: {warning}")));
        Ok::<_, CastFileError>((cast.surface, name))
    };
    let (upper, upper_name) = read(&casts.upper, Arch::Upper)?;
    let (lower, lower_name) = read(&casts.lower, Arch::Lower)?;
    Ok(Some(Scans { surfaces: [upper, lower], names: [upper_name, lower_name], notes }))
}

/// A case worked through that was read from this text.
fn worked(case: Case, name: &str, text: &str) -> Result<WorkedCase, FileError> {
    WorkedCase::of(case, name.to_owned(), text.to_owned()).map_err(|source| {
        let (line, column) = text::place_of(source.field(), text.trim_start_matches('\u{feff}'));
        FileError::Case { file: name.to_owned(), line, column, source: Box::new(source) }
    })
}

/// Reads the points of a tracing, and examines it.
fn tracing<F: Folder + ?Sized>(folder: &F, file: &Path) -> Result<Under, FileError> {
    let name = name(folder, file);
    let recorded = files::tracing::points_in(folder, file).map_err(FileError::Tracing)?;
    Under::of(name.clone(), recorded)
        .map_err(|source| FileError::Unexamined { file: name, source: Box::new(source) })
}
