//! Where an input comes from.

use std::borrow::Cow;
use std::io;
use std::path::{Path, PathBuf};

use crate::open::{OpenError, all_of, file};
use crate::text::{MOST_TEXT_BYTES, TextError, Written, from_text, text_of};

/// Where an input comes from.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Source {
    /// A text of the program's own.
    CompiledIn {
        /// How messages call it.
        name: &'static str,
        /// The text.
        text: &'static str,
    },
    /// Standard input.
    StandardInput,
    /// A file.
    File(PathBuf),
}

impl Source {
    /// What a person names: `-` is standard input, everything else a file.
    #[must_use]
    pub fn named(path: &Path) -> Self {
        if path.as_os_str() == "-" { Self::StandardInput } else { Self::File(path.to_owned()) }
    }

    /// How messages call it.
    #[must_use]
    pub fn name(&self) -> String {
        match self {
            Self::CompiledIn { name, .. } => (*name).to_owned(),
            Self::StandardInput => "standard input".to_owned(),
            Self::File(path) => words::quoted::path(path),
        }
    }

    /// The file, if it is one.
    #[must_use]
    pub fn path(&self) -> Option<&Path> {
        match self {
            Self::File(path) => Some(path),
            Self::CompiledIn { .. } | Self::StandardInput => None,
        }
    }

    /// The folder from which the files that it names are looked for.
    #[must_use]
    pub fn folder(&self) -> &Path {
        self.path().and_then(Path::parent).unwrap_or(Path::new(""))
    }

    /// Its bytes, up to `most`.
    ///
    /// # Errors
    /// [`OpenError`] says why there are none.
    pub fn bytes(&self, most: u64) -> Result<Cow<'_, [u8]>, OpenError> {
        match self {
            Self::CompiledIn { text, .. } => Ok(Cow::Borrowed(text.as_bytes())),
            Self::StandardInput => all_of(io::stdin().lock(), 0, most).map(Cow::Owned),
            Self::File(path) => file(path, most).map(Cow::Owned),
        }
    }

    /// Its text, as far as it can be told that it may be a text of this kind.
    ///
    /// # Errors
    /// [`TextError`] for what is not there, no file, too large or no text.
    pub fn text<T: Written>(&self) -> Result<String, TextError> {
        let name = self.name();
        let bytes = self.bytes(MOST_TEXT_BYTES).map_err(|error| TextError::of_file(&name, error, T::KIND))?;
        text_of(bytes.into_owned(), &name, T::KIND)
    }

    /// What its text says.
    ///
    /// # Errors
    /// [`TextError`] names the file and the place.
    pub fn read<T: Written>(&self) -> Result<T, TextError> {
        from_text(&self.text::<T>()?, &self.name())
    }
}
