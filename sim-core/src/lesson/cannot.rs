//! Why something cannot be measured.

use crate::cusp::Tooth;
use crate::excursion::NoPose;
use crate::plan::PlanError;
use crate::record::trial::TrialError;
use crate::setting::{ChangeError, SettingName};
use crate::tracing::TracingError;

/// Why something cannot be measured.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum CannotMeasure {
    /// No such cusp.
    #[error("no cusp of the set-up is `{given}`; its cusps are {}", .known.join(", "))]
    NoSuchCusp {
        /// What was given.
        given: String,
        /// What there is.
        known: Vec<String>,
    },
    /// Several of a tooth.
    #[error("tooth {tooth} has several cusps in this set-up; say which: {}", .known.join(", "))]
    ManyCusps {
        /// The tooth.
        tooth: Tooth,
        /// What there is.
        known: Vec<String>,
    },
    /// A change that this set-up does not take.
    #[error(transparent)]
    Change(#[from] ChangeError),
    /// A change that does nothing in this set-up.
    #[error("{change} changes nothing in this set-up")]
    Idle {
        /// The change.
        change: String,
    },
    /// A change of invented casts, which are made once.
    #[error("{change} would make other casts; a lesson keeps the casts that it starts with")]
    OtherCasts {
        /// The change.
        change: String,
    },
    /// A set-up that makes no sense with its changes made.
    #[error("with the changes made, {0}")]
    Senseless(String),
    /// No pose.
    #[error(transparent)]
    NoPose(#[from] NoPose),
    /// It depends on how far the jaw has gone, and nothing says so.
    #[error(
        "this is measured in an excursion, and neither the step nor the phrase has one; write for example `in protrusive at 3 mm`"
    )]
    NoExcursion,
    /// Another excursion than the step's, and nothing says how far it goes.
    #[error("nothing says how far this excursion goes; write for example `at 3 mm` behind it")]
    NoDistance,
    /// A Bennett movement of no side.
    #[error("the Bennett movement is that of a lateral excursion; write for example `in right lateral`")]
    NotLateral,
    /// A record of no kind.
    #[error(
        "the gaps of the split are read on a protrusive or a lateral record; write for example `in protrusive at 6 mm`"
    )]
    NoRecord,
    /// A setting that the set-up lacks, or has twice.
    #[error("{setting} has no one value in this set-up; name the side, or another setting")]
    NoOneValue {
        /// The setting.
        setting: SettingName,
    },
    /// No inclines.
    #[error(transparent)]
    Plan(#[from] PlanError),
    /// The split cannot be brought together.
    #[error(transparent)]
    Trial(#[from] TrialError),
    /// No tracing.
    #[error(transparent)]
    Tracing(#[from] TracingError),
}
