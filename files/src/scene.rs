//! The casts of a scene: read or invented, mounted, and made ready to be searched.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use sim_core::cast::invented::InventedError;
use sim_core::cast::{Casts, ToothPlaces, toward_opposing};
use sim_core::cusp::Arch;
use sim_core::scene::{CastMountingError, Scene};

use crate::cast::{CastFileError, MOST_BYTES, read_bytes, told_apart};
use crate::folder::Folder;

/// The casts of a scene.
#[derive(Debug)]
pub struct SceneCasts {
    /// Both of them, in the instrument's frame.
    pub casts: Arc<Casts>,
    /// What reading them had to mend or assume, and what looks wrong about where they stand, one sentence
    /// each, with the file it is about.
    pub notes: Vec<String>,
}

/// Why a scene's casts cannot be had.
#[derive(Debug, thiserror::Error)]
pub enum SceneCastsError {
    /// A file that is no cast.
    #[error(transparent)]
    File(#[from] CastFileError),
    /// A mounting that no human has.
    #[error(transparent)]
    Mounting(#[from] CastMountingError),
    /// Settings of invented casts that do not go together.
    #[error("invented_casts: {0}")]
    Invented(#[from] InventedError),
}

/// Reads or invents the casts that a scene names; `None` where it names none. `folder` is the scene's own.
///
/// Cusps of the scene that bear the tooth and name of one of an invented pair's are moved to where
/// the pair has them.
///
/// # Errors
/// [`SceneCastsError`] names the file or the field.
pub fn of_scene<F: Folder + ?Sized>(
    scene: &mut Scene,
    folder: &F,
) -> Result<Option<SceneCasts>, SceneCastsError> {
    mounted(scene, folder, |_, _| ())
}

/// As [`of_scene`]; `took` has each file that was read, the upper cast's first.
pub(crate) fn mounted<F: Folder + ?Sized>(
    scene: &mut Scene,
    folder: &F,
    mut took: impl FnMut(PathBuf, Vec<u8>),
) -> Result<Option<SceneCasts>, SceneCastsError> {
    if let Some(pair) = scene.invent_casts()? {
        let casts = Casts::new(pair.upper, pair.lower, &ToothPlaces::of(&pair.cusps));
        return Ok(Some(SceneCasts { casts: Arc::new(casts), notes: Vec::new() }));
    }
    let Some(files) = &scene.casts else { return Ok(None) };
    told_apart(folder, files)?;
    let mut notes = Vec::new();
    let mut read = |file: &str, arch| {
        let path = folder.path(Path::new(file));
        let name = words::quoted::path(&path);
        let bytes = folder
            .bytes(Path::new(file), MOST_BYTES)
            .map_err(|error| CastFileError::of_file(&name, error))?;
        let cast = read_bytes(&name, &bytes, arch, files.unit)?;
        took(path, bytes);
        notes.extend(cast.warnings().into_iter().map(|warning| format!("{name}: {warning}")));
        Ok::<_, CastFileError>(cast.surface)
    };
    let surfaces = [read(&files.upper, Arch::Upper)?, read(&files.lower, Arch::Lower)?];
    let mounted = files.mounted(surfaces, scene.instrument.intercondylar_distance)?;
    let faced = |surface, arch, file: &str, notes: &mut Vec<String>| {
        let (surface, turned) = toward_opposing(surface, arch);
        if turned > 0 {
            let file = folder.path(Path::new(file));
            notes.push(format!(
                "{}: {turned} open surfaces faced away from the opposing teeth and were turned over",
                words::quoted::path(&file)
            ));
        }
        surface
    };
    let [upper, lower] = mounted;
    let upper = faced(upper, Arch::Upper, &files.upper, &mut notes);
    let lower = faced(lower, Arch::Lower, &files.lower, &mut notes);
    let casts = Casts::new(upper, lower, &ToothPlaces::of(&scene.cusps));
    let names = [&files.upper, &files.lower].map(|file| words::quoted::path(&folder.path(Path::new(file))));
    let found = casts.misplaced(scene.occlusal_plane);
    notes.extend(words::verdict::misplaced::sentences(&found, names.each_ref().map(String::as_str)));
    Ok(Some(SceneCasts { casts: Arc::new(casts), notes }))
}
