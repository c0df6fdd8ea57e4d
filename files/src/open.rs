//! Bytes of files: how many there may be, and why a file gives none.

use std::fs::{self, File};
use std::io::{self, Read};
use std::path::Path;

/// Why a file gives no bytes. Who asks for them says which file it is, and what it should be.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum OpenError {
    /// It is a folder.
    Folder,
    /// It is a device or the like.
    NotAFile,
    /// It has more bytes than what it is to hold may have.
    TooLarge {
        /// Its bytes, or as many as were read.
        bytes: u64,
    },
    /// It is not there, or the system does not hand it over.
    Unreadable {
        /// What kind of refusal it was.
        kind: io::ErrorKind,
        /// What the system says.
        why: String,
    },
}

impl From<io::Error> for OpenError {
    fn from(error: io::Error) -> Self {
        match error.kind() {
            io::ErrorKind::IsADirectory => Self::Folder,
            kind => Self::Unreadable { kind, why: error.to_string() },
        }
    }
}

/// The bytes of a file that a person names; it may be a pipe.
pub(crate) fn file(path: &Path, most: u64) -> Result<Vec<u8>, OpenError> {
    let about = fs::metadata(path)?;
    if about.is_dir() {
        return Err(OpenError::Folder);
    }
    if about.is_file() && about.len() > most {
        return Err(OpenError::TooLarge { bytes: about.len() });
    }
    all_of(File::open(path)?, about.len(), most)
}

/// The bytes of a file that a text names: no pipe, and no device that never ends.
pub(crate) fn regular_file(path: &Path, most: u64) -> Result<Vec<u8>, OpenError> {
    let about = fs::metadata(path)?;
    if !about.is_file() && !about.is_dir() {
        return Err(OpenError::NotAFile);
    }
    file(path, most)
}

/// A study's table, to be read by parts and never held whole; each pass through it opens it anew.
///
/// # Errors
/// What the system says; [`io::ErrorKind::IsADirectory`] of a folder.
pub fn open_table(path: &Path) -> io::Result<File> {
    if fs::metadata(path)?.is_dir() {
        return Err(io::ErrorKind::IsADirectory.into());
    }
    File::open(path)
}

/// All that an input gives, about `length` bytes.
pub(crate) fn all_of(input: impl Read, length: u64, most: u64) -> Result<Vec<u8>, OpenError> {
    let mut bytes = Vec::with_capacity(usize::try_from(length.min(most)).unwrap_or_default());
    // A file may grow while it is read.
    input.take(most.saturating_add(1)).read_to_end(&mut bytes)?;
    let length = bytes.len() as u64;
    if length > most { Err(OpenError::TooLarge { bytes: length }) } else { Ok(bytes) }
}

/// Bytes without the mark that some programs put before UTF-8.
pub(crate) fn without_mark(bytes: &[u8]) -> &[u8] {
    bytes.strip_prefix(b"\xef\xbb\xbf").unwrap_or(bytes)
}
