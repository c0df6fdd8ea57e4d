//! What an observer sees at the chair and at the bench, beside the records.

use crate::units::{Angle, Length};

/// What an observer sees, beside the records and the instrument.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Observed {
    /// Angle of the tracing plate to the occlusal plane.
    pub plate_tilt: Angle,
    /// How far from the apex the stylus stood on the tracing when the protrusive record was made; of a
    /// deal in the bench's form, whose records have no coordinates to tell it.
    pub protrusive_on_tracing: Option<Length>,
    /// How the halves of the split stand to each other with the repeat of the centric record between the
    /// casts; of a deal in the bench's form, since a caliper at the grooves shows no sideways step.
    pub centric_step: Option<CentricStep>,
}

/// How the secondary base, on the upper member, stands to the primary base, on the upper cast.
///
/// The lower cast was mounted by the tentative record. Where that held the jaw too far forward, the
/// repeat carries the primary base too far forward, and the secondary base stands behind it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CentricStep {
    /// In front of it; behind it below 0.
    pub ahead: Length,
    /// To its left; to its right below 0.
    pub left: Length,
}
