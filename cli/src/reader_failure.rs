//! What ends a command short while its input is read.

use files::SceneCastsError;

use crate::case::Unworkable;
use crate::failure::Status;
use crate::input::InputError;

#[derive(Debug, thiserror::Error)]
pub(crate) enum Failure {
    #[error(transparent)]
    Input(#[from] InputError),
    #[error(transparent)]
    Unworkable(Unworkable),
    /// What was read has been written, without the settings.
    #[error("{name}: the centric record is not confirmed; no settings are given, take the record again")]
    Unconfirmed { name: String },
    #[error("{option} {name}: its ending tells no kind of surface file; give .stl, .ply or .obj")]
    NoSuchSurfaceFile { option: &'static str, name: String },
    #[error("{option} {name}: its ending tells no kind of surface file with colours; give .ply or .obj")]
    NoSuchColouredFile { option: &'static str, name: String },
    #[error("{name}: has no casts; give casts: (upper: \"…\", lower: \"…\") or invented_casts")]
    NoCasts { name: String },
    #[error("{name}: {error}")]
    Casts { name: String, error: Box<SceneCastsError> },
}

impl crate::failure::Failure for Failure {
    fn status(&self) -> Status {
        match self {
            Self::Unconfirmed { .. } => Status::Failed,
            _ => Status::Wrong,
        }
    }
}
