//! Practice: an invented patient is dealt as a case file, the student programs the instrument, and the
//! answer is marked.
//!
//! A deal is made from a seed, a [`Level`], a [`Form`] and the [`Fault`]s wanted, and is the same for the
//! same four. The student is handed the case, the instrument as it stands before anything is set, a tracing,
//! what an observer saw, and an empty [`Answer`]; the teacher keeps the [`Key`].
//!
//! Records come in one of two forms: as coordinates of landmarks, for the program to work
//! through, or as the bench has them ([`deal_as`]), for a student to reason about: readings of scales, gaps
//! at the grooves of the split, and what an observer saw.
//!
//! # What the student can and cannot find out
//! The program is open, so whoever knows the seed can deal the patient again and read the truth. What
//! is handed out therefore holds neither seed nor truth, only the records as measured and a number that
//! is a digest of them, by which an answer finds its key. A seed drawn at random from 2⁶⁴ cannot be
//! tried out; a seed that a person would choose can, and is for demonstrations.
//!
//! ```
//! use sim_core::frame::Side;
//! use sim_core::practice::{Answer, Check, Level, SideAnswer, Verdict, Verdicts, deal, mark};
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
//! let verdicts = Check::ALL
//!     .into_iter()
//!     .fold(Verdicts::default(), |verdicts, check| verdicts.with(check, Verdict::Accepted));
//! let mut answer =
//!     Answer { deal: patient.number, right: side(Side::Right), left: side(Side::Left), verdicts };
//! assert_eq!(mark(&answer, &patient.key)?.points, 100.0);
//! // A setting that is far off costs its points.
//! answer.left.horizontal_inclination_deg = Some(-20.0);
//! assert_eq!(mark(&answer, &patient.key)?.points, 100.0 - sim_core::practice::POINTS_PER_SETTING);
//! # Ok::<(), sim_core::practice::MarkError>(())
//! ```

mod answer;
mod at_the_bench;
mod deal;
mod detect;
pub(crate) mod dice;
mod fault;
mod judge;
mod key;
mod mark;
mod number;
mod observed;
mod outcome;
mod patient;
mod recipe;
mod scanned;
mod subject;
mod tracing;

pub use answer::{Answer, SideAnswer, Verdict, Verdicts};
pub use deal::{Deal, DealError, deal, deal_as, drawn_faults};
pub use fault::{Check, Direction, Fault};
pub use key::Key;
pub use mark::{DisclusionError, Mark, MarkError, SettingMark, VerdictMark, mark};
pub use number::DealNumber;
pub use observed::{CentricStep, Observed};
pub use outcome::{POINTS_PER_SETTING, POINTS_PER_VERDICT, SettingOutcome, VerdictOutcome};

use serde::{Deserialize, Serialize};

/// How hard a deal is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub enum Level {
    /// Measured nearly exactly, sides nearly alike, no immediate translation, casts scanned in place.
    First,
    /// More noise, sides unlike, at times an immediate translation, casts scanned anyhow.
    Second,
    /// Noise of a hasty record, sides much unlike, immediate translation on both; of scanned records two
    /// protrusive ones to pool, and either design.
    Third,
}

impl Level {
    /// All, easiest first.
    pub const ALL: [Self; 3] = [Self::First, Self::Second, Self::Third];
}

/// The form in which the records of a deal come.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub enum Form {
    /// Landmarks of scanned casts.
    #[default]
    Coordinates,
    /// What the scales read and a caliper measures, of casts that nobody scanned.
    Bench,
}

impl Form {
    /// Both.
    pub const ALL: [Self; 2] = [Self::Coordinates, Self::Bench];
}
