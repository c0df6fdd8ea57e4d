//! A tracing from a file: points, or a photo of the plate.

use std::path::Path;

use files::Source;
use files::tracing::{TracingError, bytes, from_legs, from_points};
use sim_core::tracing::Recorded;
use tracing_photo::{PhotoError, PhotoFacts};

use crate::args::PhotoOptions;
use crate::failure::{Failure, Status};

/// Why there is no tracing to work on.
#[derive(Debug, thiserror::Error)]
pub(crate) enum TracingFileError {
    #[error(transparent)]
    File(#[from] TracingError),
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

impl Failure for TracingFileError {
    fn status(&self) -> Status {
        Status::Wrong
    }
}

/// A tracing with what its photo told, if it came from one.
pub(crate) struct Given {
    pub(crate) recorded: Recorded,
    pub(crate) photo: Option<PhotoFacts>,
}

/// How messages call the file.
pub(crate) fn name(path: &Path) -> String {
    Source::named(path).name()
}

/// Reads a tracing.
pub(crate) fn read(path: &Path, options: &PhotoOptions) -> Result<Given, TracingFileError> {
    let source = Source::named(path);
    let bytes = bytes(&source)?;
    let name = || source.name();
    if tracing_photo::is_photo(&bytes) {
        let scale = options.scale().ok_or_else(|| TracingFileError::NoScale { name: name() })?;
        let photo = tracing_photo::points(&bytes, &scale, options.within)
            .map_err(|error| TracingFileError::Photo { name: name(), error })?;
        Ok(Given { recorded: from_legs(photo.legs, &name())?, photo: Some(photo.facts) })
    } else if let Some(kind) = tracing_photo::kind_of_picture(&bytes) {
        Err(TracingFileError::OtherPicture { name: name(), kind })
    } else if is_named_like_a_picture(path) {
        Err(TracingFileError::NoPicture { name: name() })
    } else if options.scale().is_some() {
        Err(TracingFileError::ScaleOfPoints { name: name() })
    } else {
        Ok(Given { recorded: from_points(&bytes, &name())?, photo: None })
    }
}

fn is_named_like_a_picture(path: &Path) -> bool {
    let ending = path.extension().map(|ending| ending.to_string_lossy().to_lowercase());
    matches!(ending.as_deref(), Some("png" | "jpg" | "jpeg"))
}
