//! Texts that people write, read from files: how large they may be, and what is said of those that
//! cannot be read.

use std::fs::{self, File};
use std::io::{self, Read};
use std::path::Path;

use sim_core::text::ReadError;

/// A file above this is no text of ours: the largest sensible scene, with recorded profiles on both
/// sides, is a few megabytes.
pub const MOST_BYTES: u64 = 50_000_000;

/// What a text is to hold, for what is said when it does not.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Wanted {
    /// In a word, as `scene`.
    pub name: &'static str,
    /// Where to start from without one.
    pub start: &'static str,
}

impl Wanted {
    /// A scene.
    pub const SCENE: Self = Self { name: "scene", start: "`eminentia scene` prints a scene to start from" };
    /// A study.
    pub const STUDY: Self =
        Self { name: "study", start: "invented studies to start from are in the folder scenes/studies" };
}

/// Why there is nothing to work on; names the file.
#[derive(Debug, thiserror::Error)]
pub enum TextError {
    /// Nothing there.
    #[error("{name}: no such file; {}", .wanted.start)]
    Missing {
        /// The file.
        name: String,
        /// What it was to hold.
        wanted: Wanted,
    },
    /// A folder.
    #[error("{name}: is a folder; a {} is a file (RON)", .wanted.name)]
    Folder {
        /// The folder.
        name: String,
        /// What was to be read.
        wanted: Wanted,
    },
    /// A file that the system does not give.
    #[error("{name}: cannot be read: {error}")]
    Unreadable {
        /// The file.
        name: String,
        /// What the system says.
        error: io::Error,
    },
    /// More than [`MOST_BYTES`].
    #[error("{name}: is larger than {} MB; a {} is a text of a few kB", MOST_BYTES / 1_000_000, .wanted.name)]
    TooLarge {
        /// The file.
        name: String,
        /// What it was to hold.
        wanted: Wanted,
    },
    /// Bytes that are no text.
    #[error(
        "{name}: is not UTF-8 text (first wrong byte: {byte} of {length}, line {line}); a {} is a text file (RON)",
        .wanted.name
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
        wanted: Wanted,
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

/// The message of a reading error without the place, which stands before it.
fn without_place(error: &ReadError) -> String {
    let whole = error.to_string();
    let place = format!("line {}, column {}: ", error.line, error.column);
    let message = whole.strip_prefix(&place).unwrap_or(&whole);
    if error.field.is_empty() { message.to_owned() } else { format!("field {message}") }
}

/// The text of a file.
///
/// # Errors
/// [`TextError`] for what is not there, no file, too large or no text.
pub fn text_of_file(path: &Path, wanted: Wanted) -> Result<String, TextError> {
    let name = path.display().to_string();
    let told = |error: io::Error| match error.kind() {
        io::ErrorKind::NotFound => TextError::Missing { name: name.clone(), wanted },
        _ => TextError::Unreadable { name: name.clone(), error },
    };
    if fs::metadata(path).map_err(told)?.is_dir() {
        return Err(TextError::Folder { name, wanted });
    }
    let file = File::open(path).map_err(told)?;
    text_of(file, &name, wanted)
}

/// The text that an input gives; `name` is how messages call it.
///
/// # Errors
/// As [`text_of_file`].
pub fn text_of(input: impl Read, name: &str, wanted: Wanted) -> Result<String, TextError> {
    let name = || name.to_owned();
    let mut bytes = Vec::new();
    input
        .take(MOST_BYTES + 1)
        .read_to_end(&mut bytes)
        .map_err(|error| TextError::Unreadable { name: name(), error })?;
    if bytes.len() as u64 > MOST_BYTES {
        return Err(TextError::TooLarge { name: name(), wanted });
    }
    String::from_utf8(bytes).map_err(|error| {
        let (byte, bytes) = (error.utf8_error().valid_up_to(), error.as_bytes());
        let line = 1 + bytes[..byte].iter().filter(|&&byte| byte == b'\n').count();
        TextError::NotText { name: name(), byte: byte + 1, length: bytes.len(), line, wanted }
    })
}

/// What a text says, by the reader of its kind.
///
/// # Errors
/// [`TextError::Unread`] with the name and the place.
pub fn parsed<T>(
    text: &str,
    name: &str,
    parse: impl FnOnce(&str) -> Result<T, ReadError>,
) -> Result<T, TextError> {
    // Some editors start a text with a mark that RON does not know.
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    parse(text).map_err(|error| TextError::Unread { name: name.to_owned(), error })
}
