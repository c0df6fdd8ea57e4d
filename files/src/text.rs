//! Texts that people write (RON): how large they may be, and what is said of those that cannot be read.

use std::io;
use std::path::Path;

use sim_core::lesson::LessonFile;
use sim_core::practice::{Answer, Key};
use sim_core::record::Case;
use sim_core::remount::Remount;
use sim_core::scene::Scene;
use sim_core::study::Study;
use sim_core::text::ReadError;

use crate::folder::Folder;
use crate::open::OpenError;

/// A file above this is no text of ours: the largest sensible scene, with recorded profiles on both
/// sides, is a few megabytes.
pub const MOST_TEXT_BYTES: u64 = 50_000_000;

/// What a text is to hold, for what is said when it does not.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct TextKind {
    /// In a word, as `scene`.
    pub name: &'static str,
    /// Where to start from without one.
    pub start: &'static str,
}

/// What people write as a text.
pub trait Written: Sized {
    /// What such a text is called.
    const KIND: TextKind;

    /// Reads it from its text, without a byte-order mark.
    ///
    /// # Errors
    /// [`ReadError`] with the place and what is allowed.
    fn from_ron(text: &str) -> Result<Self, ReadError>;
}

/// Says what the texts of a type are called and where to start from.
macro_rules! written {
    ($($type:ty: $name:literal, $start:literal;)*) => {$(
        impl Written for $type {
            const KIND: TextKind = TextKind { name: $name, start: $start };

            fn from_ron(text: &str) -> Result<Self, ReadError> {
                Self::from_ron(text)
            }
        }
    )*};
}

written! {
    Scene: "scene", "`eminentia scene` prints a scene to start from";
    Case: "case", "invented cases to start from are in the folder scenes/cases";
    Remount: "remount", "invented remounts to start from are in the folder scenes/remounts";
    Study: "study", "`eminentia study example` lists studies to start from";
    LessonFile: "lesson", "lessons to start from are in the folder lessons";
    Answer: "answer", "`eminentia practice deal` writes an empty answer beside the patient";
    Key: "key", "`eminentia practice deal --key FILE` writes it for the teacher";
}

/// Why a text cannot be read; names the file.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum TextError {
    /// Nothing there.
    #[error("{name}: no such file; {}", .kind.start)]
    Missing {
        /// The file.
        name: String,
        /// What it was to hold.
        kind: TextKind,
    },
    /// A folder.
    #[error("{name}: is a folder; a {} is a file (RON)", .kind.name)]
    Folder {
        /// The folder.
        name: String,
        /// What was to be read.
        kind: TextKind,
    },
    /// A device or the like.
    #[error("{name}: is no file; a {} is a file (RON)", .kind.name)]
    NotAFile {
        /// The file.
        name: String,
        /// What was to be read.
        kind: TextKind,
    },
    /// A file that the system does not give.
    #[error("{name}: cannot be read: {why}")]
    Unreadable {
        /// The file.
        name: String,
        /// What the system says.
        why: String,
    },
    /// More than [`MOST_TEXT_BYTES`].
    #[error("{name}: is larger than {} MB; a {} is a text of a few kB", MOST_TEXT_BYTES / 1_000_000, .kind.name)]
    TooLarge {
        /// The file.
        name: String,
        /// What it was to hold.
        kind: TextKind,
    },
    /// Bytes that are no text.
    #[error(
        "{name}: is not UTF-8 text (first wrong byte: {byte} of {length}, line {line}); a {} is a text file (RON)",
        .kind.name
    )]
    NotText {
        /// The file.
        name: String,
        /// The first wrong byte, from 1.
        byte: usize,
        /// Bytes in all.
        length: usize,
        /// Its line, from 1.
        line: usize,
        /// What the file was to hold.
        kind: TextKind,
    },
    /// A text that says something else.
    #[error("{name}:{}:{}: {}", .error.line, .error.column, without_place(.error))]
    Unread {
        /// The file.
        name: String,
        /// What is wrong, and where.
        error: ReadError,
    },
}

impl TextError {
    /// Of a file that gives no bytes.
    pub(crate) fn of_file(name: &str, error: OpenError, kind: TextKind) -> Self {
        let name = name.to_owned();
        match error {
            OpenError::Folder => Self::Folder { name, kind },
            OpenError::NotAFile => Self::NotAFile { name, kind },
            OpenError::TooLarge { .. } => Self::TooLarge { name, kind },
            OpenError::Unreadable { kind: io::ErrorKind::NotFound, .. } => Self::Missing { name, kind },
            OpenError::Unreadable { why, .. } => Self::Unreadable { name, why },
        }
    }
}

/// The message of a reading error without the place, which stands before it.
pub(crate) fn without_place(error: &ReadError) -> String {
    let whole = error.to_string();
    let place = format!("line {}, column {}: ", error.line, error.column);
    let message = whole.strip_prefix(&place).unwrap_or(&whole);
    if error.field.is_empty() { message.to_owned() } else { format!("field {message}") }
}

/// The text that bytes are.
pub(crate) fn text_of(bytes: Vec<u8>, name: &str, kind: TextKind) -> Result<String, TextError> {
    String::from_utf8(bytes).map_err(|error| {
        let (valid, bytes) = (error.utf8_error().valid_up_to(), error.as_bytes());
        let line = 1 + bytes.iter().take(valid).filter(|&&byte| byte == b'\n').count();
        TextError::NotText { name: name.to_owned(), byte: valid + 1, length: bytes.len(), line, kind }
    })
}

/// The text of a file in a folder, as far as it can be told that it may be a text of this kind.
///
/// # Errors
/// [`TextError`] for what is not there, no file, too large or no text.
pub fn text_in<T: Written, F: Folder + ?Sized>(folder: &F, file: &Path) -> Result<String, TextError> {
    let name = words::quoted::path(&folder.path(file));
    let bytes =
        folder.bytes(file, MOST_TEXT_BYTES).map_err(|error| TextError::of_file(&name, error, T::KIND))?;
    text_of(bytes, &name, T::KIND)
}

/// What the text of a file in a folder says.
///
/// # Errors
/// As [`text_in`] and [`from_text`].
pub fn read_in<T: Written, F: Folder + ?Sized>(folder: &F, file: &Path) -> Result<T, TextError> {
    from_text(&text_in::<T, F>(folder, file)?, &words::quoted::path(&folder.path(file)))
}

/// A text without the mark that some editors put before it, which RON does not know.
pub(crate) fn without_mark(text: &str) -> &str {
    text.strip_prefix('\u{feff}').unwrap_or(text)
}

/// What a text says; `name` is how messages call it.
///
/// # Errors
/// [`TextError::Unread`] with the name and the place.
pub fn from_text<T: Written>(text: &str, name: &str) -> Result<T, TextError> {
    T::from_ron(without_mark(text)).map_err(|error| TextError::Unread { name: name.to_owned(), error })
}
