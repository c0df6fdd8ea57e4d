//! A tracing from a file: points, or a photo of the plate.

mod points;

use std::fs::{self, File};
use std::io::{self, Read};
use std::path::Path;

use sim_core::tracing::{Recorded, RecordedError};

use crate::args::PhotoOptions;
use tracing_photo::{PhotoError, PhotoFacts};

pub(crate) use points::{COLUMNS, PointsError};

/// A file above this is no tracing: a million points are some 30 MB, a photo of 50 million pixels
/// as much.
const MOST_BYTES: u64 = 100_000_000;

/// Why there is no tracing to work on.
#[derive(Debug, thiserror::Error)]
pub(crate) enum TracingFileError {
    #[error("{name}: no such file; a tracing is a CSV file of points, or a photo (PNG, JPEG)")]
    Missing { name: String },
    #[error("{name}: is a folder; a tracing is a CSV file of points, or a photo (PNG, JPEG)")]
    Folder { name: String },
    #[error("{name}: cannot be read: {error}")]
    Unreadable { name: String, error: io::Error },
    #[error("{name}: is larger than {} MB, which no tracing is", MOST_BYTES / 1_000_000)]
    TooLarge { name: String },
    #[error("{name}:{error}")]
    Points { name: String, error: PointsError },
    #[error("{name}: {error}")]
    Recorded { name: String, error: RecordedError },
    #[error("{name}: {error}")]
    Photo { name: String, error: PhotoError },
    #[error(
        "{name}: is a photo, whose pixels tell no length; give two marks of known distance, as in \
         --marks 210,640,980,652 --apart 30"
    )]
    NoScale { name: String },
    #[error("{name}: is a file of points, which are in millimetres; --marks is for a photo")]
    ScaleOfPoints { name: String },
    #[error("{name}: is a {kind}; a photo is a PNG or JPEG")]
    OtherPicture { name: String, kind: &'static str },
    #[error("{name}: is named like a picture, but is neither PNG nor JPEG")]
    NoPicture { name: String },
}

/// A tracing with what its photo told, if it came from one.
pub(crate) struct Given {
    pub(crate) recorded: Recorded,
    pub(crate) photo: Option<PhotoFacts>,
}

/// How messages call the file.
pub(crate) fn name(path: &Path) -> String {
    if path.as_os_str() == "-" { "standard input".to_owned() } else { path.display().to_string() }
}

/// Reads a tracing.
pub(crate) fn read(path: &Path, options: &PhotoOptions) -> Result<Given, TracingFileError> {
    let bytes = bytes(path)?;
    let name = || name(path);
    let (legs, photo) = if tracing_photo::is_photo(&bytes) {
        let scale = options.scale().ok_or_else(|| TracingFileError::NoScale { name: name() })?;
        let found = tracing_photo::points(&bytes, &scale, options.within)
            .map_err(|error| TracingFileError::Photo { name: name(), error })?;
        (found.legs, Some(found.facts))
    } else if let Some(kind) = tracing_photo::kind_of_picture(&bytes) {
        return Err(TracingFileError::OtherPicture { name: name(), kind });
    } else if is_named_like_a_picture(path) {
        return Err(TracingFileError::NoPicture { name: name() });
    } else if options.scale().is_some() {
        return Err(TracingFileError::ScaleOfPoints { name: name() });
    } else {
        let legs = points::read(&bytes).map_err(|error| TracingFileError::Points { name: name(), error })?;
        (legs, None)
    };
    let [protrusive, right_lateral, left_lateral] = legs;
    let recorded = Recorded::new(protrusive, right_lateral, left_lateral)
        .map_err(|error| TracingFileError::Recorded { name: name(), error })?;
    Ok(Given { recorded, photo })
}

fn is_named_like_a_picture(path: &Path) -> bool {
    let ending = path.extension().map(|ending| ending.to_string_lossy().to_lowercase());
    matches!(ending.as_deref(), Some("png" | "jpg" | "jpeg"))
}

fn bytes(path: &Path) -> Result<Vec<u8>, TracingFileError> {
    let told = |error: io::Error| match error.kind() {
        io::ErrorKind::NotFound => TracingFileError::Missing { name: name(path) },
        _ => TracingFileError::Unreadable { name: name(path), error },
    };
    let input: Box<dyn Read> = if path.as_os_str() == "-" {
        Box::new(io::stdin().lock())
    } else if fs::metadata(path).map_err(told)?.is_dir() {
        return Err(TracingFileError::Folder { name: name(path) });
    } else {
        Box::new(File::open(path).map_err(told)?)
    };
    let mut bytes = Vec::new();
    input.take(MOST_BYTES + 1).read_to_end(&mut bytes).map_err(told)?;
    if bytes.len() as u64 > MOST_BYTES {
        return Err(TracingFileError::TooLarge { name: name(path) });
    }
    Ok(bytes)
}
