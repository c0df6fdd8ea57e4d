//! How parts of an answer are judged, and what each is worth.

use super::Verdict;
use crate::units::Angle;

/// Points for each of the four settings.
pub const POINTS_PER_SETTING: f64 = 15.0;
/// Points for each of the eight verdicts.
pub const POINTS_PER_VERDICT: f64 = 5.0;

/// How a setting was judged.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum SettingOutcome {
    /// Within half a graduation of what the records give.
    AsRead,
    /// Farther, but as near the truth as the records' errors allow.
    WithinBand,
    /// Off by so much beyond the nearer of the two.
    Off {
        /// Beyond what is allowed.
        beyond: Angle,
    },
    /// Not given although the records give it.
    NotGiven,
    /// Rightly not given: what it is set from is rejected, and taken again first.
    Withheld,
    /// Given from what must be rejected.
    FromFaulty,
    /// Not given, and what it is set from, which is at fault, not rejected.
    NotSaid,
}

/// How a verdict was judged.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum VerdictOutcome {
    /// The fault is there and was found.
    Found,
    /// The fault is there and was found, but not which way the record is off.
    FoundOtherWay,
    /// The fault is there and was passed.
    Missed,
    /// The fault was claimed and is not there.
    WronglyClaimed,
    /// Nothing is at fault and nothing was claimed.
    RightlyAccepted,
    /// Nothing was said of a fault that is there.
    OpenAtFault,
    /// Nothing was said of what is sound.
    OpenSound,
}

impl SettingOutcome {
    /// `as_read`, `within_band`, `off`, `not_given`, `withheld`, `from_faulty` or `not_said`.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::AsRead => "as_read",
            Self::WithinBand => "within_band",
            Self::Off { .. } => "off",
            Self::NotGiven => "not_given",
            Self::Withheld => "withheld",
            Self::FromFaulty => "from_faulty",
            Self::NotSaid => "not_said",
        }
    }
}

impl VerdictOutcome {
    /// `found`, `found_other_way`, `missed`, `wrongly_claimed`, `rightly_accepted`, `open_at_fault` or `open_sound`.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Found => "found",
            Self::FoundOtherWay => "found_other_way",
            Self::Missed => "missed",
            Self::WronglyClaimed => "wrongly_claimed",
            Self::RightlyAccepted => "rightly_accepted",
            Self::OpenAtFault => "open_at_fault",
            Self::OpenSound => "open_sound",
        }
    }

    pub(super) const fn of(present: bool, verdict: Verdict) -> Self {
        match (present, verdict) {
            (true, Verdict::Rejected) => Self::Found,
            (true, Verdict::Accepted) => Self::Missed,
            (true, Verdict::Open) => Self::OpenAtFault,
            (false, Verdict::Rejected) => Self::WronglyClaimed,
            (false, Verdict::Accepted) => Self::RightlyAccepted,
            (false, Verdict::Open) => Self::OpenSound,
        }
    }

    /// The part of a verdict's points that it is worth.
    pub(super) const fn share(self) -> f64 {
        match self {
            Self::Found | Self::RightlyAccepted => 1.0,
            Self::FoundOtherWay => 0.5,
            Self::Missed | Self::WronglyClaimed | Self::OpenAtFault | Self::OpenSound => 0.0,
        }
    }
}
