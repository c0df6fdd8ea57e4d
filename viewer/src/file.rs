//! Reading a scene file.

use std::path::Path;

use sim_core::scene::Scene;

use crate::error::FileError;

/// Reads a scene.
///
/// # Errors
/// [`FileError`] with the file's name, and with line and column where its text is wrong.
pub fn read(path: &Path) -> Result<Scene, FileError> {
    let file = || path.display().to_string();
    let text =
        std::fs::read_to_string(path).map_err(|source| FileError::Unreadable { file: file(), source })?;
    Scene::from_ron(&text).map_err(|source| FileError::Scene { file: file(), source })
}
