//! What ends a command short while its input is read and its report made.

use files::SceneCastsError;
use sim_core::excursion::ExcursionError;

use crate::case::Unworkable;
use crate::failure::Status;
use crate::input::InputError;
use crate::output::OutputError;
use crate::plot::PlotError;
use crate::stopped::{Stop, Stopped};

#[derive(Debug, thiserror::Error)]
pub(crate) enum Failure {
    #[error(transparent)]
    Input(#[from] InputError),
    #[error(transparent)]
    Output(#[from] OutputError),
    #[error(transparent)]
    Plot(#[from] PlotError),
    #[error(transparent)]
    Unworkable(Unworkable),
    /// What was read has been written, without the settings.
    #[error("{name}: the centric record is not confirmed; no settings are given, take the record again")]
    Unconfirmed { name: String },
    #[error("{}", .0.iter().map(Stop::to_string).collect::<Vec<_>>().join("\n"))]
    Stopped(Vec<Stop>),
    #[error("{0}; this is a fault of the program")]
    Unexpected(String),
    #[error("{option} {name}: its ending tells no kind of surface file; give .stl, .ply or .obj")]
    NoSuchSurfaceFile { option: &'static str, name: String },
    #[error("{option} {name}: its ending tells no kind of surface file with colours; give .ply or .obj")]
    NoSuchColouredFile { option: &'static str, name: String },
    #[error("{name}: has no casts; give casts: (upper: \"…\", lower: \"…\") or invented_casts")]
    NoCasts { name: String },
    #[error("{name}: {error}")]
    Casts { name: String, error: Box<SceneCastsError> },
    #[error("--excursion {given}: there is no such excursion; those of this scene are {known}")]
    NoSuchExcursion { given: String, known: String },
    #[error("--excursion {name}: the scene makes none of it; say how far with --at")]
    NoEnd { name: String },
    #[error("--at: {0}")]
    At(ExcursionError),
}

impl crate::failure::Failure for Failure {
    fn status(&self) -> Status {
        match self {
            Self::Plot(PlotError::Picture { .. })
            | Self::Unconfirmed { .. }
            | Self::Unexpected(_)
            | Self::Stopped(_) => Status::Failed,
            Self::Output(error) => crate::failure::Failure::status(error),
            _ => Status::Wrong,
        }
    }

    fn messages(&self) -> Vec<String> {
        match self {
            Self::Stopped(stops) => crate::failure::Failure::messages(&Stopped(stops.clone())),
            _ => vec![self.to_string()],
        }
    }
}
