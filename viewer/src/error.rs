//! What can go wrong, in words, and the exit status it means.

use files::{SceneCastsError, TextError};
use sim_core::excursion::NoPose;

use crate::solved::Unreachable;

/// Why a scene cannot be shown.
#[derive(Debug, thiserror::Error)]
pub enum Unshowable {
    /// None of its excursions has a pose.
    #[error(transparent)]
    NoPose(#[from] NoPose),
    /// Its casts cannot be had.
    #[error(transparent)]
    Casts(Box<SceneCastsError>),
}

impl From<SceneCastsError> for Unshowable {
    fn from(error: SceneCastsError) -> Self {
        Self::Casts(Box::new(error))
    }
}

/// A scene file that cannot be opened.
#[derive(Debug, thiserror::Error)]
pub enum FileError {
    /// The file cannot be read, or its text is no scene.
    #[error(transparent)]
    Text(TextError),
    /// A sound scene that cannot be shown.
    #[error("{file}: {source}")]
    Unshowable {
        /// The file.
        file: String,
        /// Why.
        source: Unshowable,
    },
}

/// Why the viewer ends before its time.
#[derive(Debug, thiserror::Error)]
pub enum ViewerError {
    /// A scene file that cannot be opened.
    #[error(transparent)]
    File(#[from] FileError),
    /// An excursion that the scene does not offer.
    #[error("there is no excursion `{given}` in this scene; there are {known}")]
    NoSuchExcursion {
        /// What was asked for.
        given: String,
        /// What there is.
        known: String,
    },
    /// A position that cannot be shown.
    #[error("--at {at}: {source}")]
    Unreachable {
        /// The position.
        at: f64,
        /// Why.
        source: Unreachable,
    },
    /// An option that needs casts.
    #[error("--{option} is about casts, and this scene has none; it needs casts: (…) or invented_casts: (…)")]
    NoCasts {
        /// The option.
        option: &'static str,
    },
    /// A plane put beside the casts.
    #[error("--section-at {given}: the casts reach from {least:.1} to {greatest:.1} mm there")]
    BesideCasts {
        /// What was asked for.
        given: f64,
        /// Least that cuts them.
        least: f64,
        /// Greatest that cuts them.
        greatest: f64,
    },
    /// A picture that cannot be written.
    #[error("{file}: the picture cannot be written: {why}")]
    Unwritable {
        /// The file.
        file: String,
        /// Why.
        why: String,
    },
    /// Nothing to draw with, or nowhere to show it.
    #[error("{0}")]
    Surroundings(String),
}

impl ViewerError {
    /// 1 when the work failed, 2 when the input, the command line or the surroundings are wrong.
    #[must_use]
    pub const fn status(&self) -> u8 {
        match self {
            Self::Unreachable { source: Unreachable::NoPose(_), .. }
            | Self::File(FileError::Unshowable { source: Unshowable::NoPose(_), .. })
            | Self::Unwritable { .. } => 1,
            _ => 2,
        }
    }
}
