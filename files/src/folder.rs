//! Where the files are that a text names.

use std::path::{Path, PathBuf};

use crate::open::{OpenError, regular_file};

/// Where the files are that a text names: the text's own folder. Every path is one; where there is no
/// disk, it is whatever has the bytes.
pub trait Folder {
    /// A file of it, as messages call it and as it is listed among the files that were read.
    fn path(&self, name: &Path) -> PathBuf;

    /// The bytes of a file, up to `most`.
    ///
    /// # Errors
    /// [`OpenError`] says why there are none.
    fn bytes(&self, name: &Path, most: u64) -> Result<Vec<u8>, OpenError>;
}

impl Folder for Path {
    fn path(&self, name: &Path) -> PathBuf {
        self.join(name)
    }

    fn bytes(&self, name: &Path, most: u64) -> Result<Vec<u8>, OpenError> {
        regular_file(&self.join(name), most)
    }
}

/// The folder of a file that lies in, or is named from, another folder.
pub struct FolderOf<'f, F: ?Sized> {
    file: &'f Path,
    named_from: &'f F,
}

impl<'f, F: Folder + ?Sized> FolderOf<'f, F> {
    /// The folder of `file`, as that is named from another one.
    pub const fn new(file: &'f Path, named_from: &'f F) -> Self {
        Self { file, named_from }
    }

    fn full(&self, name: &Path) -> PathBuf {
        self.file.parent().unwrap_or(Path::new("")).join(name)
    }
}

impl<F: Folder + ?Sized> Folder for FolderOf<'_, F> {
    fn path(&self, name: &Path) -> PathBuf {
        self.named_from.path(&self.full(name))
    }

    fn bytes(&self, name: &Path, most: u64) -> Result<Vec<u8>, OpenError> {
        self.named_from.bytes(&self.full(name), most)
    }
}
