//! Files that were handed over by name, where there is no disk.

use std::collections::BTreeMap;
use std::io::ErrorKind;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use crate::folder::Folder;
use crate::open::OpenError;

/// Files that a person has handed over, as to a page of a browser, which knows names and bytes and no disk.
///
/// A file that a text names in a folder is found by its last name too: a page is given `upper.stl`, never
/// `casts/upper.stl`. [`Folder::path`] then gives the name under which it was found.
///
/// ```
/// use std::path::Path;
/// use files::{Folder as _, Given};
///
/// let mut given = Given::default();
/// given.take("upper.stl", *b"solid");
/// assert_eq!(given.bytes(Path::new("casts/upper.stl"), 100).as_deref(), Ok(b"solid".as_slice()));
/// ```
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Given {
    files: BTreeMap<PathBuf, Arc<[u8]>>,
}

impl Given {
    /// Takes a file; one of the same name that was given before makes room for it.
    pub fn take(&mut self, name: impl Into<PathBuf>, bytes: impl Into<Arc<[u8]>>) {
        self.files.insert(name.into(), bytes.into());
    }

    /// Their names, in the order of the alphabet.
    pub fn names(&self) -> impl Iterator<Item = &Path> {
        self.files.keys().map(PathBuf::as_path)
    }

    /// The file that is meant by a name.
    fn find(&self, name: &Path) -> Option<(&Path, &[u8])> {
        let last = || self.files.get_key_value(Path::new(name.file_name()?));
        let (found, bytes) = self.files.get_key_value(name).or_else(last)?;
        Some((found, bytes))
    }
}

impl Folder for Given {
    fn path(&self, name: &Path) -> PathBuf {
        self.find(name).map_or(name, |(found, _)| found).to_owned()
    }

    fn bytes(&self, name: &Path, most: u64) -> Result<Vec<u8>, OpenError> {
        let Some((_, bytes)) = self.find(name) else {
            // Not `NotFound`: who looks for a file on a disk is told other things than who has to hand it over.
            return Err(OpenError::Unreadable {
                kind: ErrorKind::Other,
                why: "it is not among the files that were given here; give a scene and the files that it names \
                      together"
                    .to_owned(),
            });
        };
        let length = bytes.len() as u64;
        if length > most { Err(OpenError::TooLarge { bytes: length }) } else { Ok(bytes.to_vec()) }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_file_is_found_by_its_name_or_its_last_name_and_refused_in_words_where_it_is_not() {
        let mut given = Given::default();
        given.take("upper.stl", *b"first");
        given.take("upper.stl", *b"upper");
        given.take("casts/lower.stl", *b"lower");
        let read = |name: &str| given.bytes(Path::new(name), 5);
        assert_eq!(read("upper.stl").as_deref(), Ok(b"upper".as_slice()));
        assert_eq!(read("casts/upper.stl").as_deref(), Ok(b"upper".as_slice()));
        assert_eq!(read("casts/lower.stl").as_deref(), Ok(b"lower".as_slice()));
        assert_eq!(given.path(Path::new("../scans/upper.stl")), Path::new("upper.stl"));
        // A folder that was given is not looked through for a bare name.
        for absent in ["lower.stl", "other/lower.stl", "..", ""] {
            let Err(OpenError::Unreadable { why, .. }) = read(absent) else { panic!("{absent}") };
            assert!(why.contains("given"), "{why}");
            assert_eq!(given.path(Path::new(absent)), Path::new(absent));
        }
        assert_eq!(given.bytes(Path::new("upper.stl"), 4), Err(OpenError::TooLarge { bytes: 5 }));
        assert_eq!(given.names().count(), 2);
    }
}
