//! Why a set-up does not travel by a link.

use sim_core::text::ReadError;
use words::quoted::message;

use super::limits::{MOST_LINK_LETTERS, MOST_UNPACKED_BYTES, VERSION};
use crate::text::without_place;

/// Which of the two set-ups of a link.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SetUp {
    /// The scene.
    Scene,
    /// The second one, B.
    Beside,
}

impl SetUp {
    const fn words(self) -> &'static str {
        match self {
            Self::Scene => "the set-up",
            Self::Beside => "the second set-up, B,",
        }
    }
}

/// Why a set-up cannot be put into a link, or read from one. Texts in it are fit to show: short, and without
/// control characters.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum LinkError {
    /// Nothing there.
    #[error("the link carries nothing; behind #set-up= stands {VERSION} and what `eminentia link` writes")]
    Empty,
    /// Another form.
    #[error("the link begins with “{given}”; a link that can be read here begins with {VERSION}")]
    Version {
        /// What it begins with.
        given: String,
    },
    /// A letter that no link has.
    #[error(
        "letter {place} of the link is “{given}”; a link has A to Z, a to z, 0 to 9, - and _ only: copy it again, whole"
    )]
    Letter {
        /// The letter.
        given: String,
        /// Its place, from 1.
        place: usize,
    },
    /// A link that is too long.
    #[error(
        "the link has {letters} letters; allowed are {MOST_LINK_LETTERS}: send the scene as a file where it is larger, \
         as with long recorded paths or tables of heights"
    )]
    TooLong {
        /// How many there are.
        letters: usize,
    },
    /// Cut off or changed.
    #[error(
        "the link was cut off or changed on its way, so that it cannot be unpacked; copy it again, whole"
    )]
    Damaged,
    /// It unpacks to too much.
    #[error("what the link carries is larger than {MOST_UNPACKED_BYTES} bytes; send the scene as a file")]
    TooLarge,
    /// Bytes that are no text.
    #[error(
        "what the link carries is not UTF-8 text; a link is written by `eminentia link` or by the viewer"
    )]
    NotText,
    /// A line that says nothing known.
    #[error(
        "the link says “{given}”, which is not known; known are excursion, driven, view and beside, each once"
    )]
    Line {
        /// The line.
        given: String,
    },
    /// A scene that is refused.
    #[error("{} is refused: {why}", .which.words())]
    Unsound {
        /// Which of the two.
        which: SetUp,
        /// The field and what would be accepted.
        why: String,
    },
    /// A scene with files.
    #[error(
        "{} names the cast files “{upper}” and “{lower}”; files stay on the machine that has them, and a link cannot \
         carry them: send the scene and its casts as files, or give it invented_casts in place of casts",
        .which.words()
    )]
    CastFiles {
        /// Which of the two.
        which: SetUp,
        /// The file of the upper cast.
        upper: String,
        /// That of the lower.
        lower: String,
    },
    /// An excursion that is not there.
    #[error("“{given}”: there is no such excursion; those of the set-up are {known}")]
    NoSuchExcursion {
        /// The name given.
        given: String,
        /// Those that there are.
        known: String,
    },
    /// No place of that excursion.
    #[error("{excursion} at {given}; allowed is from 0 to {most} {unit}")]
    Driven {
        /// The excursion.
        excursion: &'static str,
        /// The number given.
        given: String,
        /// The farthest.
        most: f64,
        /// `mm` or `degrees`.
        unit: &'static str,
    },
    /// A place, and no excursion.
    #[error(
        "the link says how far along an excursion one stands, but not along which; give both, or the excursion alone"
    )]
    DrivenAlone,
    /// No name of a viewpoint.
    #[error("“{given}” names no viewpoint; a name has small letters and _ only, at most 20, as in oblique")]
    Viewpoint {
        /// What was given.
        given: String,
    },
}

impl LinkError {
    /// Of a scene text that is refused. Line and column are left out: nobody sees that text.
    pub(super) fn unsound(which: SetUp, error: &ReadError) -> Self {
        Self::Unsound { which, why: message(&without_place(error)) }
    }
}
