//! Why a remount tells nothing.

use crate::record::registration::RegistrationError;

/// Why a remount cannot be worked out.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum RemountError {
    /// A number out of its range.
    #[error("{field} is {given}; allowed are {least} to {most} mm")]
    OutOfRange {
        /// The field.
        field: &'static str,
        /// What was given.
        given: f64,
        /// The least allowed.
        least: f64,
        /// The most allowed.
        most: f64,
    },
    /// Nothing to work out.
    #[error("the remount has neither pin_lift_mm nor centric nor raised; give at least one of them")]
    Nothing,
    /// Guided by incisors, the instrument has no pin.
    #[error("pin_lift_mm: the scene's anterior guide has no pin; Table(…) and Casts(…) have one")]
    NoPin,
    /// The pin cannot be so far off its table.
    #[error("pin_lift_mm: no turn about the axis lifts the pin by {lift_mm} mm")]
    NoTurn {
        /// The lift.
        lift_mm: f64,
    },
    /// The landmarks or the matrix give no motion.
    #[error("centric: {0}")]
    Registration(#[from] RegistrationError),
    /// Gaps at too few teeth, or at teeth in line.
    #[error(
        "centric: gaps at {given} teeth are given; at least three are needed, on both sides and not in one line"
    )]
    TooFewGaps {
        /// How many.
        given: usize,
    },
    /// A tooth to raise that neither the casts nor the cusps have.
    #[error("raised: the scene's casts or cusps have no tooth {0}")]
    NoSuchRaised(u8),
}

impl RemountError {
    /// The field that it is about.
    pub(super) const fn field(&self) -> &'static str {
        match self {
            Self::OutOfRange { field, .. } => field,
            Self::Nothing => "title",
            Self::NoPin | Self::NoTurn { .. } => "pin_lift_mm",
            Self::Registration(_) | Self::TooFewGaps { .. } => "centric",
            Self::NoSuchRaised(_) => "raised",
        }
    }
}
