//! Why a case cannot be worked through.

use super::from_gaps::GapFitError;
use super::mounting::MountingError;
use super::nth_record;
use super::registration::RegistrationError;
use super::settings::UnreadableAngle;
use super::split_cast::GrooveError;
use crate::frame::Side;

/// Why a case cannot be worked through.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum ProgramError {
    /// The casts cannot be mounted.
    #[error("mounting: {0}")]
    Mounting(#[from] MountingError),
    /// A record cannot be registered.
    #[error("records[{index}], the {} (a {kind}): {why}", nth_record(*index))]
    Registration {
        /// Its place in the list, from 0.
        index: usize,
        /// What was recorded.
        kind: &'static str,
        /// Why.
        why: RegistrationError,
    },
    /// Groove gaps cannot be explained.
    #[error("split_cast_grooves_mm: {0}")]
    Grooves(#[from] GrooveError),
    /// Gaps at the grooves give no angles.
    #[error("the records given by groove gaps: {0}")]
    Gaps(#[from] GapFitError),
    /// A setting cannot be read.
    #[error("{setting} of the {side} guide cannot be set: {why}; {needed}")]
    Unreadable {
        /// The side.
        side: Side,
        /// `horizontal_inclination_deg` or `lateral_angle_deg`.
        setting: &'static str,
        /// What would do.
        needed: &'static str,
        /// Why.
        why: UnreadableAngle,
    },
    /// The axis is not one that the instrument can take.
    #[error(
        "intercondylar_distance_mm: the axis points are {given_mm:.1} mm apart, which no instrument takes; give the instrument's own distance"
    )]
    Distance {
        /// Distance between the axis points, in millimetres.
        given_mm: f64,
    },
    /// Something of the scene cannot stand in the instrument.
    #[error("{field}: {why}")]
    Scene {
        /// The field of the case.
        field: String,
        /// Why.
        why: String,
    },
}

impl ProgramError {
    /// The field of the case that the complaint is about.
    #[must_use]
    pub fn field(&self) -> &str {
        match self {
            Self::Mounting(_) => "mounting",
            Self::Registration { .. } | Self::Unreadable { .. } | Self::Gaps(_) => "records",
            Self::Grooves(_) => "split_cast_grooves_mm",
            Self::Distance { .. } => "mounting",
            Self::Scene { field, .. } => field.split('[').next().unwrap_or(field),
        }
    }
}
