//! The files to start from.

use std::path::{Path, PathBuf};
use std::{fs, io};

/// What a file is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Kind {
    /// A scene (RON).
    Scene,
    /// A case (RON).
    Case,
    /// A study (RON).
    Study,
    /// A lesson (RON).
    Lesson,
    /// A remount (RON).
    Remount,
    /// Points of a tracing (CSV).
    Tracing,
    /// A scanned cast (STL, PLY or OBJ).
    Cast,
    /// An address that carries a set-up.
    Link,
}

/// A file of the corpus.
#[derive(Clone, Debug)]
pub struct Seed {
    /// What it is.
    pub kind: Kind,
    /// Its name.
    pub name: String,
    /// What stands in it.
    pub bytes: Vec<u8>,
}

/// Where the workspace is.
#[must_use]
pub fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).parent().map_or_else(PathBuf::new, Path::to_path_buf)
}

/// All files of the corpus, in the order of their names.
///
/// # Errors
/// What the system says.
pub fn read() -> io::Result<Vec<Seed>> {
    let folders = [
        ("scenes", Kind::Scene, ".ron"),
        ("scenes/cases", Kind::Case, ".ron"),
        ("scenes/studies", Kind::Study, ".ron"),
        ("scenes/remounts", Kind::Remount, ".ron"),
        ("lessons", Kind::Lesson, ".ron"),
        ("scenes/tracings", Kind::Tracing, ".csv"),
        ("fuzz/corpus", Kind::Cast, ".stl"),
        ("fuzz/corpus", Kind::Cast, ".ply"),
        ("fuzz/corpus", Kind::Cast, ".obj"),
        ("fuzz/corpus", Kind::Link, ".txt"),
    ];
    let mut seeds = Vec::new();
    for (folder, kind, ending) in folders {
        let mut paths: Vec<PathBuf> = fs::read_dir(root().join(folder))?
            .map(|entry| entry.map(|entry| entry.path()))
            .collect::<Result<_, _>>()?;
        paths.sort();
        for path in paths.into_iter().filter(|path| path.to_string_lossy().ends_with(ending)) {
            let name = path.file_name().map(|name| name.to_string_lossy().into_owned()).unwrap_or_default();
            seeds.push(Seed { kind, name, bytes: fs::read(&path)? });
        }
    }
    Ok(seeds)
}
