//! A file written whole or not at all.

use std::io::Write;
use std::path::Path;

/// Writes beside the name first and then in its place, so that a file that was there before is not lost
/// when writing fails.
///
/// # Errors
/// Those of the file system.
pub fn write(path: &Path, bytes: &[u8]) -> std::io::Result<()> {
    let folder = match path.parent() {
        Some(folder) if !folder.as_os_str().is_empty() => folder,
        _ => Path::new("."),
    };
    let mut file = tempfile::Builder::new();
    // As the command line's, so that one name tells what may be removed after a power cut.
    file.prefix(".eminentia-");
    #[cfg(unix)]
    {
        // As any other program's file would be: the user's mask decides who may read it.
        use std::os::unix::fs::PermissionsExt;
        file.permissions(std::fs::Permissions::from_mode(0o666));
    }
    let mut file = file.tempfile_in(folder)?;
    file.write_all(bytes)?;
    // On the disk before it has the name, so that a power cut leaves the old file or the new one.
    file.as_file().sync_all()?;
    file.persist(path).map_err(|error| error.error)?;
    Ok(())
}
