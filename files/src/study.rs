//! A study from its file, with everything that the file names.

use std::path::{Path, PathBuf};

use serde::{Deserialize, Serialize};
use sim_core::scene::Scene;
use sim_core::study::{BaseScene, Prepared, Study};

use crate::column::ColumnFiles;
use crate::fingerprint::sha256;
use crate::folder::{Folder, FolderOf};
use crate::scene::{SceneCastsError, mounted};
use crate::source::Source;
use crate::text::{TextError, from_text, text_in, without_mark};

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
}

/// A file that was read.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct InputFile {
    /// Its name without its folders, which are another machine's.
    pub file: String,
    /// Of its bytes, in 64 lower-case hexadecimal digits.
    pub sha256: String,
}

impl InputFile {
    fn new(path: &Path, bytes: &[u8]) -> Self {
        Self::known(path, sha256([bytes]))
    }

    fn known(path: &Path, sha256: String) -> Self {
        let file = path.file_name().unwrap_or(path.as_os_str()).to_string_lossy().into_owned();
        Self { file, sha256 }
    }
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
    /// The same with what stood in them, for a table to say.
    pub inputs: Vec<InputFile>,
    sha256: String,
}

impl Loaded {
    /// A study that was made ready in memory and needs no file; `name` is how messages call it.
    #[must_use]
    pub fn new(prepared: Prepared, name: &str) -> Self {
        let sha256 = fingerprint(&prepared, &[]);
        Self {
            prepared,
            name: name.to_owned(),
            notes: Vec::new(),
            files: Vec::new(),
            inputs: Vec::new(),
            sha256,
        }
    }

    /// SHA-256 of all that the table depends on: [`Prepared::canonical`], then the bytes of the upper
    /// and of the lower cast's file where the scene names files. In 64 lower-case hexadecimal digits.
    #[must_use]
    pub fn sha256(&self) -> &str {
        &self.sha256
    }
}

/// Reads a study (RON) with all that it names: its base scene and the columns of CSV files by their paths
/// from the study's folder, and casts by their paths from the scene's.
///
/// # Errors
/// [`LoadError`] says what is wrong, in which file and where, and what would be accepted.
pub fn load(source: &Source) -> Result<Loaded, LoadError> {
    let text = source.text::<Study>().map_err(LoadError::Study)?;
    let mut loaded = study_from_text(&text, &source.name(), source.folder())?;
    if let Some(path) = source.path() {
        loaded.files.insert(0, path.to_owned());
        loaded.inputs.insert(0, InputFile::new(path, text.as_bytes()));
    }
    Ok(loaded)
}

/// As [`load`], of a text that was read already; `name` is how messages call it.
///
/// # Errors
/// As [`load`].
pub fn study_from_text<F: Folder + ?Sized>(text: &str, name: &str, folder: &F) -> Result<Loaded, LoadError> {
    let text = without_mark(text);
    let study: Study = from_text(text, name).map_err(LoadError::Study)?;
    let (mut files, mut inputs) = (Vec::new(), Vec::new());
    // A scene in full looks for its casts where the study looks for its files.
    let (mut scene, scene_name, scene_file) = match &study.scene {
        BaseScene::Here(scene) => ((**scene).clone(), name.to_owned(), Path::new("")),
        BaseScene::File(file) => {
            let file = Path::new(file);
            let path = folder.path(file);
            let scene_name = words::quoted::path(&path);
            let of_scene = |error| LoadError::Scene { study: name.to_owned(), error };
            let text = text_in::<Scene, F>(folder, file).map_err(of_scene)?;
            let scene = from_text(&text, &scene_name).map_err(of_scene)?;
            files.push(path);
            inputs.push(InputFile::new(file, text.as_bytes()));
            (scene, scene_name, file)
        }
    };
    let mut cast_contents = Vec::new();
    let casts = mounted(&mut scene, &FolderOf::new(scene_file, folder), |path, bytes| {
        inputs.push(InputFile::new(&path, &bytes));
        files.push(path);
        cast_contents.push(bytes);
    })
    .map_err(|error| LoadError::Casts { scene: scene_name, error: Box::new(error) })?;
    let mut columns = ColumnFiles::of(&study, folder);
    let mut prepared = Prepared::new(&study, &scene, |file, column| {
        let taken = columns.take(file, column)?;
        let (file, path) = (Path::new(file), folder.path(Path::new(file)));
        if let Some(sha256) = taken.first_read
            && !files.contains(&path)
        {
            inputs.push(InputFile::known(file, sha256));
            files.push(path);
        }
        taken.numbers
    })
    .map_err(|error| {
        let error = Study::placed(&error, text);
        LoadError::Study(TextError::Unread { name: name.to_owned(), error })
    })?;
    let sha256 = fingerprint(&prepared, &cast_contents);
    let mut notes = Vec::new();
    if let Some(casts) = casts {
        prepared = prepared.with_casts(casts.casts);
        notes = casts.notes;
    }
    Ok(Loaded { prepared, name: name.to_owned(), notes, files, inputs, sha256 })
}

fn fingerprint(prepared: &Prepared, cast_contents: &[Vec<u8>]) -> String {
    let canonical = prepared.canonical();
    // The length keeps the two files apart.
    let lengths: Vec<[u8; 8]> =
        cast_contents.iter().map(|content| (content.len() as u64).to_le_bytes()).collect();
    let casts = lengths.iter().zip(cast_contents).flat_map(|(length, content)| [&length[..], content]);
    sha256(std::iter::once(canonical.as_bytes()).chain(casts))
}
