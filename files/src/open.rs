//! Bytes of files: how many there may be, and why a file gives none.

use std::fs::{self, File};
use std::io::{self, Read};
use std::path::Path;
use std::time::SystemTime;

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
            kind @ io::ErrorKind::NotFound => Self::Unreadable { kind, why: "no such file".to_owned() },
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
    let file = File::open(path)?;
    unchanged(&file, &file, most)
}

/// All that an opened file gives, read from `input`; refused where the file is changed meanwhile, so that neither a part
/// of a file nor two halves of two are taken for one.
fn unchanged(file: &File, input: impl Read, most: u64) -> Result<Vec<u8>, OpenError> {
    let before = file.metadata()?;
    let bytes = all_of(input, before.len(), most)?;
    // Pipes have no length, and files that the system makes up say that they have none.
    if before.is_file() && before.len() > 0 {
        let stands = Stamp::from(&before) == Stamp::from(&file.metadata()?);
        if !stands || bytes.len() as u64 != before.len() {
            let why = "it was changed while it was read; try again once nothing writes to it";
            return Err(OpenError::Unreadable { kind: io::ErrorKind::Other, why: why.to_owned() });
        }
    }
    Ok(bytes)
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

/// What tells that an ordinary file is still the one that it was: which one it is, how long, and when it was last written.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Stamp {
    length: u64,
    written: Option<SystemTime>,
    which: Option<u64>,
}

impl Stamp {
    /// Of the file that stands there now; `None` of a pipe or a device, and where there is none.
    #[must_use]
    pub fn of(path: &Path) -> Option<Self> {
        fs::metadata(path).ok().filter(fs::Metadata::is_file).map(|about| Self::from(&about))
    }
}

impl From<&fs::Metadata> for Stamp {
    fn from(about: &fs::Metadata) -> Self {
        #[cfg(unix)]
        let which = Some(std::os::unix::fs::MetadataExt::ino(about));
        #[cfg(not(unix))]
        let which = None;
        Self { length: about.len(), written: about.modified().ok(), which }
    }
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

#[cfg(test)]
mod tests {
    use super::*;

    /// Gives a file by parts, and does something to it after the first.
    struct Meddled<'f, M: FnMut()>(&'f File, Option<M>);

    impl<M: FnMut()> Read for Meddled<'_, M> {
        fn read(&mut self, buffer: &mut [u8]) -> io::Result<usize> {
            let part = buffer.len().min(10);
            let read = self.0.read(&mut buffer[..part])?;
            if let Some(mut meddle) = self.1.take() {
                meddle();
            }
            Ok(read)
        }
    }

    #[test]
    fn a_file_that_is_changed_while_it_is_read_is_refused() {
        let folder = tempfile::tempdir().unwrap();
        let (path, other) = (folder.path().join("a.csv"), folder.path().join("b.csv"));
        let long = "1234567.5\n".repeat(100);
        let read = |meddle: &dyn Fn()| {
            fs::write(&path, &long).unwrap();
            fs::write(&other, "8.5\n").unwrap();
            let file = File::open(&path).unwrap();
            unchanged(&file, Meddled(&file, Some(meddle)), 10_000)
        };
        let refused = |read: Result<Vec<u8>, OpenError>| match read {
            Err(OpenError::Unreadable { why, .. }) => {
                assert!(why.contains("changed while it was read"), "{why}");
            }
            other => panic!("{other:?}"),
        };
        let cut = || File::options().write(true).open(&path).unwrap().set_len(505).unwrap();
        refused(read(&cut));
        refused(read(&|| fs::write(&path, "8.5\n").unwrap()));
        refused(read(&|| fs::write(&path, long.repeat(2)).unwrap()));
        // What has lost its name, or has given it to another, is still what was opened.
        let removed = || fs::remove_file(&path).unwrap();
        let replaced = || fs::rename(&other, &path).unwrap();
        let meddles: [&dyn Fn(); 3] = [&|| (), &removed, &replaced];
        for meddle in meddles {
            assert_eq!(read(meddle), Ok(long.clone().into_bytes()));
        }
    }
}
