//! Tracings of a Gothic arch: a file of points. A photo of a plate comes by the same door as bytes, and
//! is turned into points elsewhere.

mod points;

use std::borrow::Cow;
use std::io::ErrorKind;
use std::path::Path;

use sim_core::tracing::{PlatePoint, Recorded, RecordedError};

pub use points::{COLUMNS, PointsError, points};

use crate::folder::Folder;
use crate::open::OpenError;
use crate::source::Source;

/// A file above this is no tracing: a million points are some 30 MB, a photo of 50 million pixels
/// as much.
pub const MOST_BYTES: u64 = 100_000_000;

/// Why there is no tracing to work on; names the file.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum TracingError {
    /// Nothing there.
    #[error("{name}: no such file; a tracing is a CSV file of points, or a photo (PNG, JPEG)")]
    Missing {
        /// The file.
        name: String,
    },
    /// A folder.
    #[error("{name}: is a folder; a tracing is a CSV file of points, or a photo (PNG, JPEG)")]
    Folder {
        /// The folder.
        name: String,
    },
    /// A file that the system does not give.
    #[error("{name}: cannot be read: {why}")]
    Unreadable {
        /// The file.
        name: String,
        /// What the system says.
        why: String,
    },
    /// More than [`MOST_BYTES`].
    #[error("{name}: is larger than {} MB, which no tracing is", MOST_BYTES / 1_000_000)]
    TooLarge {
        /// The file.
        name: String,
    },
    /// A text that holds no points.
    #[error("{name}:{error}")]
    Points {
        /// The file.
        name: String,
        /// What is wrong, and in which line.
        error: PointsError,
    },
    /// Points that make no tracing.
    #[error("{name}: {error}")]
    Recorded {
        /// The file.
        name: String,
        /// What is wrong with them.
        error: RecordedError,
    },
}

/// The bytes of a tracing's file, of points or a photo.
///
/// # Errors
/// [`TracingError`] for what is not there, no file or too large.
pub fn bytes(source: &Source) -> Result<Cow<'_, [u8]>, TracingError> {
    source.bytes(MOST_BYTES).map_err(|error| TracingError::of_file(source.name(), error))
}

/// The tracing that a file of points in a folder holds.
///
/// # Errors
/// As [`bytes()`] and [`from_points`].
pub fn points_in<F: Folder + ?Sized>(folder: &F, file: &Path) -> Result<Recorded, TracingError> {
    let name = words::quoted::path(&folder.path(file));
    match folder.bytes(file, MOST_BYTES) {
        Ok(bytes) => from_points(&bytes, &name),
        Err(error) => Err(TracingError::of_file(name, error)),
    }
}

impl TracingError {
    /// Of a file that gives no bytes.
    fn of_file(name: String, error: OpenError) -> Self {
        match error {
            OpenError::Folder => Self::Folder { name },
            OpenError::NotAFile => Self::Unreadable { name, why: "it is no file".to_owned() },
            OpenError::TooLarge { .. } => Self::TooLarge { name },
            OpenError::Unreadable { kind: ErrorKind::NotFound, .. } => Self::Missing { name },
            OpenError::Unreadable { why, .. } => Self::Unreadable { name, why },
        }
    }
}

/// The tracing that a file of points holds.
///
/// # Errors
/// [`TracingError`] with the line, or with what the points are short of.
pub fn from_points(bytes: &[u8], name: &str) -> Result<Recorded, TracingError> {
    let legs = points(bytes).map_err(|error| TracingError::Points { name: name.to_owned(), error })?;
    from_legs(legs, name)
}

/// The tracing of legs in the order of [`Leg::ALL`](sim_core::tracing::Leg::ALL).
///
/// # Errors
/// [`TracingError::Recorded`] says what the points are short of.
pub fn from_legs(legs: [Vec<PlatePoint>; 3], name: &str) -> Result<Recorded, TracingError> {
    let [protrusive, right_lateral, left_lateral] = legs;
    Recorded::new(protrusive, right_lateral, left_lateral)
        .map_err(|error| TracingError::Recorded { name: name.to_owned(), error })
}
