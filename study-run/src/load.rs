//! A study from its file, with everything that the file names.

use std::fs;
use std::path::{Path, PathBuf};

use files::SceneCastsError;
use sha2::{Digest as _, Sha256};
use sim_core::scene::Scene;
use sim_core::study::{BaseScene, Prepared, Study};

use crate::column_file;
use crate::input::{TextError, Wanted, parsed, text_of_file};

/// Why a study cannot be had from its file.
#[derive(Debug, thiserror::Error)]
pub enum LoadError {
    /// The study itself, with its place where it can be told.
    #[error(transparent)]
    Study(TextError),
    /// The base scene.
    #[error("{error} (the base scene of {study})")]
    Scene {
        /// The study.
        study: String,
        /// What is wrong with the scene.
        error: TextError,
    },
    /// The casts of the base scene.
    #[error("{scene}: {error}")]
    Casts {
        /// The file that names them.
        scene: String,
        /// What is wrong with them.
        error: Box<SceneCastsError>,
    },
    /// A cast that was read once and cannot be read again.
    #[error("{file}: cannot be read: {error}")]
    CastGone {
        /// The file.
        file: String,
        /// What the system says.
        error: std::io::Error,
    },
}

/// A study ready to be run.
#[derive(Clone, Debug)]
pub struct Loaded {
    /// The study, its casts mounted.
    pub prepared: Prepared,
    /// How messages call it: its file.
    pub name: String,
    /// What reading the casts had to mend or assume, one sentence each.
    pub notes: Vec<String>,
    /// Every file that was read, the study's own first if there is one; none is to be written over.
    pub files: Vec<PathBuf>,
    sha256: String,
}

impl Loaded {
    /// A study that was made ready in memory and needs no file; `name` is how messages call it.
    #[must_use]
    pub fn new(prepared: Prepared, name: &str) -> Self {
        let sha256 = hashed(&prepared, &[]);
        Self { prepared, name: name.to_owned(), notes: Vec::new(), files: Vec::new(), sha256 }
    }

    /// SHA-256 of all that the table depends on: [`Prepared::canonical`], then the bytes of the upper
    /// and of the lower cast's file where the scene names files. In 64 lower-case hexadecimal digits.
    #[must_use]
    pub fn sha256(&self) -> &str {
        &self.sha256
    }
}

/// Reads a study from its file (RON), its base scene and the columns of CSV files by their paths from
/// the study's folder, and casts by their paths from the scene's.
///
/// # Errors
/// [`LoadError`] says what is wrong, in which file and where, and what would be accepted.
pub fn load(path: &Path) -> Result<Loaded, LoadError> {
    let text = text_of_file(path, Wanted::STUDY).map_err(LoadError::Study)?;
    let folder = path.parent().unwrap_or(Path::new(""));
    let mut loaded = from_text(&text, &path.display().to_string(), folder)?;
    loaded.files.insert(0, path.to_owned());
    Ok(loaded)
}

/// As [`load`], of a text that was read already; `name` is how messages call it, and `folder` the one
/// from which the files that it names are looked for.
///
/// # Errors
/// As [`load`].
pub fn from_text(text: &str, name: &str, folder: &Path) -> Result<Loaded, LoadError> {
    let study = parsed(text, name, Study::from_ron).map_err(LoadError::Study)?;
    let mut files = Vec::new();
    let (mut scene, scene_name, scene_folder) = match &study.scene {
        BaseScene::Here(scene) => ((**scene).clone(), name.to_owned(), folder.to_owned()),
        BaseScene::File(file) => {
            let path = folder.join(file);
            let scene =
                read_scene(&path).map_err(|error| LoadError::Scene { study: name.to_owned(), error })?;
            let scene_folder = path.parent().unwrap_or(Path::new("")).to_owned();
            let scene_name = path.display().to_string();
            files.push(path);
            (scene, scene_name, scene_folder)
        }
    };
    let casts = files::of_scene(&mut scene, &scene_folder)
        .map_err(|error| LoadError::Casts { scene: scene_name, error: Box::new(error) })?;
    let mut cast_contents = Vec::new();
    if let Some(named) = &scene.casts {
        for file in [&named.upper, &named.lower] {
            let path = scene_folder.join(file);
            let content = fs::read(&path)
                .map_err(|error| LoadError::CastGone { file: path.display().to_string(), error })?;
            cast_contents.push(content);
            files.push(path);
        }
    }
    let mut prepared = Prepared::new(&study, &scene, |file, column| {
        let path = folder.join(file);
        let numbers = column_file::read(&path, column)?;
        if !files.contains(&path) {
            files.push(path);
        }
        Ok(numbers)
    })
    .map_err(|error| {
        let error = Study::placed(&error, text);
        LoadError::Study(TextError::Unread { name: name.to_owned(), error })
    })?;
    let sha256 = hashed(&prepared, &cast_contents);
    let mut notes = Vec::new();
    if let Some(found) = casts {
        prepared = prepared.with_casts(found.casts);
        notes = found.notes;
    }
    Ok(Loaded { prepared, name: name.to_owned(), notes, files, sha256 })
}

fn read_scene(path: &Path) -> Result<Scene, TextError> {
    let text = text_of_file(path, Wanted::SCENE)?;
    parsed(&text, &path.display().to_string(), Scene::from_ron)
}

fn hashed(prepared: &Prepared, cast_contents: &[Vec<u8>]) -> String {
    let mut hash = Sha256::new();
    hash.update(prepared.canonical());
    for content in cast_contents {
        // The length keeps the two files apart.
        hash.update((content.len() as u64).to_le_bytes());
        hash.update(content);
    }
    hash.finalize().iter().map(|byte| format!("{byte:02x}")).collect()
}
