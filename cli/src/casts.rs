//! The casts of a scene: read or invented, and what reading them had to say.

use std::fs;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use files::{SceneCastsError, Source};
use sim_core::cast::Casts;
use sim_core::scene::Scene;

use crate::failure::{Failure, Status};
use crate::say;

/// Why a scene has no casts.
#[derive(Debug, thiserror::Error)]
pub(crate) enum CastsFailure {
    #[error("{name}: has no casts; give casts: (upper: \"…\", lower: \"…\") or invented_casts")]
    NoCasts { name: String },
    #[error("{name}: {error}")]
    Casts { name: String, error: Box<SceneCastsError> },
    #[error("{name}: is no UTF-8 text, so that no scene can name the file; give it another name")]
    Unnameable { name: String },
}

impl Failure for CastsFailure {
    fn status(&self) -> Status {
        Status::Wrong
    }
}

/// The casts of a scene, none where it names none. Cusps of an invented pair's are moved to where it
/// has them. What had to be mended or assumed is said on standard error.
pub(crate) fn of_scene(scene: &mut Scene, source: &Source) -> Result<Option<Arc<Casts>>, CastsFailure> {
    let read = files::of_scene(scene, source.folder())
        .map_err(|error| CastsFailure::Casts { name: source.name(), error: Box::new(error) })?;
    let Some(read) = read else { return Ok(None) };
    for note in &read.notes {
        say::warning(note);
    }
    Ok(Some(read.casts))
}

/// Whether two scenes have the very same casts, so that they need not be made twice.
pub(crate) fn same_casts(first: &Scene, second: &Scene) -> bool {
    let made_from = |scene: &Scene| {
        // Invented casts stand on the occlusal plane; a mounting by averages takes the distance.
        let stands = (scene.occlusal_plane.inclination, scene.instrument.intercondylar_distance);
        (scene.casts.clone(), scene.invented_casts.clone(), stands)
    };
    made_from(first) == made_from(second)
}

/// The casts of a scene that must have some.
pub(crate) fn needed(scene: &mut Scene, source: &Source) -> Result<Arc<Casts>, CastsFailure> {
    of_scene(scene, source)?.ok_or_else(|| CastsFailure::NoCasts { name: source.name() })
}

/// The files that a scene is read from, its scans among them, with what they are: none of them is to be
/// written over.
pub(crate) fn inputs(scene: &Scene, source: &Source) -> Vec<(PathBuf, &'static str)> {
    let mut inputs: Vec<(PathBuf, &'static str)> = Vec::new();
    inputs.extend(source.path().map(|path| (path.to_owned(), "scene")));
    if let Some(files) = &scene.casts {
        for (file, what) in [(&files.upper, "upper cast"), (&files.lower, "lower cast")] {
            inputs.push((source.folder().join(file), what));
        }
    }
    inputs
}

/// Names the scanned casts of a scene, which lie seen from one folder, as seen from another scene file.
pub(crate) fn rename_for(scene: &mut Scene, folder: &Path, path: &Path) -> Result<(), CastsFailure> {
    if let Some(files) = &mut scene.casts {
        for file in [&mut files.upper, &mut files.lower] {
            *file = named_from(path, &folder.join(&*file))?;
        }
    }
    Ok(())
}

/// A file as a scene file names it: from the scene's own folder if it lies there, else in full.
pub(crate) fn named_from(scene: &Path, file: &Path) -> Result<String, CastsFailure> {
    let folder = scene.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."));
    let seen: PathBuf = match (fs::canonicalize(folder), fs::canonicalize(file)) {
        (Ok(folder), Ok(file)) => file.strip_prefix(&folder).unwrap_or(&file).to_owned(),
        _ => file.to_owned(),
    };
    let unnameable = |seen: PathBuf| CastsFailure::Unnameable { name: words::quoted::path(&seen) };
    seen.into_os_string().into_string().map_err(|seen| unnameable(seen.into()))
}
