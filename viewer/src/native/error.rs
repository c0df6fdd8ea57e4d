//! What can go wrong, in words, and the exit status it means.

use sim_core::practice::DealError;

use crate::reading::FileError;
use crate::solved::Unreachable;
use crate::unshowable::Unshowable;

/// Why the viewer ends before its time.
#[derive(Debug, thiserror::Error)]
pub enum ViewerError {
    /// A file that cannot be opened.
    #[error(transparent)]
    File(#[from] FileError),
    /// No lesson of that name.
    #[error("{0}; `eminentia lesson list` names those that do")]
    NoSuchLesson(String),
    /// An excursion that the scene does not offer.
    #[error("this scene has no excursion `{given}`; it has {known}")]
    NoSuchExcursion {
        /// What was given.
        given: String,
        /// What there is.
        known: String,
    },
    /// A cusp that the scene does not list.
    #[error("--why {given}: this scene has no such cusp; it has {known}")]
    NoSuchCusp {
        /// What was given.
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
    #[error(
        "--{option} shows casts, and this scene has none; casts: (…) or invented_casts: (…) would give it some"
    )]
    NoCasts {
        /// The option.
        option: &'static str,
    },
    /// A plane put beside the casts.
    #[error("--section-at {given}: the casts reach from {least:.1} to {greatest:.1} mm there")]
    BesideCasts {
        /// What was given.
        given: f64,
        /// Least that cuts them.
        least: f64,
        /// Greatest that cuts them.
        greatest: f64,
    },
    /// An option of the bench, without a case on it.
    #[error("--{option} is for the bench, and no case lies on it; name a case file, or --deal SEED")]
    NoCase {
        /// The option.
        option: &'static str,
    },
    /// An option of an instrument, with a case.
    #[error("--{option} is for an instrument, and a case lies on the bench")]
    OnTheBench {
        /// The option.
        option: &'static str,
    },
    /// Something that cannot be done at the bench.
    #[error("--{option}: {why}")]
    Bench {
        /// The option.
        option: &'static str,
        /// Why not.
        why: String,
    },
    /// A setting that cannot be changed so.
    #[error("--with: {0}")]
    Change(String),
    /// A seed that deals no patient.
    #[error("--deal: {0}")]
    Deal(#[from] DealError),
    /// A picture or a report that cannot be written.
    #[error("{file}: cannot be written: {why}")]
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
