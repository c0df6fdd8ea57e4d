//! Practice: an invented patient is dealt as a case file, the student programs the instrument, and the
//! answer is marked.
//!
//! A deal is made from a seed, a [`Level`] and the [`Fault`]s wanted, and is the same for the same
//! three. The student is handed the case, the instrument as it stands before anything is set, and an
//! empty [`Answer`]; the teacher keeps the [`Key`].
//!
//! # What the student can and cannot find out
//! The program is open, so whoever knows the seed can deal the patient again and read the truth. What
//! is handed out therefore holds neither seed nor truth, only the records as measured and a number that
//! is a digest of them, by which an answer finds its key. A seed drawn at random from 2⁶⁴ cannot be
//! tried out; a seed that a person would choose can, and is for demonstrations.
//!
//! ```
//! use sim_core::frame::Side;
//! use sim_core::practice::{Answer, Level, SideAnswer, Verdict, Verdicts, deal, mark};
//!
//! let patient = deal(1, Level::First, &[])?;
//! // An answer that gives the jaw as it is and accepts what is sound.
//! let side = |side| {
//!     let guide = patient.jaw().guide(side);
//!     SideAnswer {
//!         horizontal_inclination_deg: Some(guide.horizontal_inclination.degrees()),
//!         lateral_angle_deg: Some(guide.lateral_angle.degrees()),
//!     }
//! };
//! let sound = Verdict::Accepted;
//! let verdicts = Verdicts {
//!     centric_record: sound,
//!     protrusive_record: sound,
//!     lateral_records: sound,
//!     instrument: sound,
//! };
//! let mut answer =
//!     Answer { deal: patient.number, right: side(Side::Right), left: side(Side::Left), verdicts };
//! assert_eq!(mark(&answer, &patient.key)?.points, 100.0);
//! // A setting that is far off costs its points.
//! answer.left.horizontal_inclination_deg = Some(-20.0);
//! assert_eq!(mark(&answer, &patient.key)?.points, 100.0 - sim_core::practice::POINTS_PER_SETTING);
//! # Ok::<(), sim_core::practice::MarkError>(())
//! ```

mod answer;
mod deal;
mod key;
mod mark;
mod number;
mod patient;

pub use answer::{Answer, SideAnswer, Verdict, Verdicts};
pub use deal::{Deal, DealError, deal, drawn_faults};
pub use key::Key;
pub use mark::{
    DisclusionError, Mark, MarkError, POINTS_PER_SETTING, POINTS_PER_VERDICT, SettingMark, SettingOutcome,
    VerdictMark, VerdictOutcome, mark,
};
pub use number::DealNumber;

use serde::{Deserialize, Serialize};

/// How hard a deal is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub enum Level {
    /// Landmarks nearly exact, sides nearly alike, no immediate translation, casts scanned in place.
    First,
    /// More noise, sides unlike, at times an immediate translation, casts scanned anyhow.
    Second,
    /// Noise of a hasty record, sides much unlike, immediate translation on both, two protrusive
    /// records to pool, either design.
    Third,
}

impl Level {
    /// All, easiest first.
    pub const ALL: [Self; 3] = [Self::First, Self::Second, Self::Third];
}

/// What can be wrong with a deal.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
pub enum Fault {
    /// The tentative centric record is off, which its repeat shows.
    WrongCentric,
    /// The protrusive record is too short.
    ShortProtrusion,
    /// The lateral records are labelled with the wrong sides.
    SwappedSides,
    /// The instrument was not zeroed.
    UnzeroedInstrument,
}

impl Fault {
    /// All, in the order of an answer's verdicts.
    pub const ALL: [Self; 4] =
        [Self::WrongCentric, Self::ShortProtrusion, Self::SwappedSides, Self::UnzeroedInstrument];

    /// The verdict's field in an answer that it is about.
    #[must_use]
    pub const fn verdict(self) -> &'static str {
        match self {
            Self::WrongCentric => "centric_record",
            Self::ShortProtrusion => "protrusive_record",
            Self::SwappedSides => "lateral_records",
            Self::UnzeroedInstrument => "instrument",
        }
    }
}
