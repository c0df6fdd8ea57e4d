//! What makes a case senseless although each of its fields is in range.

use super::nth_record;
use super::registration::{FEWEST_LANDMARKS, RegistrationError};

/// A name or rule that is to stand in a line.
pub(super) const LONGEST_NAME: usize = 120;

/// What makes a case senseless although each of its fields is in range.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum SenselessCase {
    /// Nothing to read.
    #[error("records is empty; give at least a protrusive or a lateral record")]
    NoRecord,
    /// Too few landmarks.
    #[error("in_centric_mm has {given} landmarks; at least {FEWEST_LANDMARKS}, not in one line, are needed")]
    TooFew {
        /// Number given.
        given: usize,
    },
    /// A list of another length.
    #[error(
        "records[{index}], the {} (a {kind}) has {given} landmarks, in_centric_mm has {expected}; the same ones in the same order are needed",
        nth_record(*index)
    )]
    Unmatched {
        /// Its place in the list, from 0.
        index: usize,
        /// What was recorded.
        kind: &'static str,
        /// Number given.
        given: usize,
        /// Number expected.
        expected: usize,
    },
    /// No pose, or more than one.
    #[error(
        "records[{index}], the {} (a {kind}) {}; give one of lower_landmarks_mm and transform{gaps}",
        nth_record(*index),
        poses_given(*given)
    )]
    OnePose {
        /// Its place in the list, from 0.
        index: usize,
        /// What was recorded.
        kind: &'static str,
        /// How many of the fields are given.
        given: usize,
        /// What else a centric repeat may give.
        gaps: &'static str,
    },
    /// A matrix that is no rigid motion.
    #[error("records[{index}], the {} (a {kind}): {why}", nth_record(*index))]
    Transform {
        /// Its place in the list, from 0.
        index: usize,
        /// What was recorded.
        kind: &'static str,
        /// Why.
        why: RegistrationError,
    },
    /// A negative deviation or tolerance.
    #[error("{field} is {given}; allowed are 0 to {most} mm")]
    OutOfRange {
        /// The field.
        field: &'static str,
        /// What was given.
        given: f64,
        /// The most allowed.
        most: f64,
    },
    /// Not the three points of a plane.
    #[error("occlusal_plane_mm has {given} points; three, not in one line, are needed")]
    NotThree {
        /// Number given.
        given: usize,
    },
    /// Two answers to one question.
    #[error(
        "incisal_guidance and anterior_guide are both given; give the measures that the table is set from, or the guide itself"
    )]
    TwoGuides,
    /// A record by landmarks without those of centric.
    #[error(
        "records[{index}], the {} (a {kind}) is given by landmarks, and the case has no lower_landmarks in centric to compare them with",
        nth_record(*index)
    )]
    NoLandmarks {
        /// Its place in the list, from 0.
        index: usize,
        /// What was recorded.
        kind: &'static str,
    },
    /// Grooves in two frames.
    #[error("grooves_mm and split_cast_grooves_mm are both given; give the grooves once")]
    TwiceGrooves,
    /// A name that says nothing.
    #[error("{field} of the mounting is to be a name of 1 to {LONGEST_NAME} characters")]
    Nameless {
        /// `axis` or `anterior_reference`.
        field: &'static str,
    },
    /// No width to stand the guides at.
    #[error("intercondylar_distance_mm is missing; a mounting by name has no axis points to take it from")]
    NoDistance,
    /// A record of the bench that makes no sense.
    #[error("records[{index}], the {} (a {kind}): {why}", nth_record(*index))]
    Bench {
        /// Its place in the list, from 0.
        index: usize,
        /// What was recorded.
        kind: &'static str,
        /// Which of its fields.
        field: &'static str,
        /// Why, and what would do.
        why: String,
    },
    /// Gaps without the grooves they were measured at.
    #[error(
        "records[{index}], the {}, gives {given} groove gaps for {expected} grooves (split_cast_grooves_mm or grooves_mm); one gap for each is needed",
        nth_record(*index)
    )]
    Gaps {
        /// Its place in the list, from 0.
        index: usize,
        /// Gaps given.
        given: usize,
        /// Grooves given.
        expected: usize,
    },
}

/// How a record says where the jaw was, where that is not as it should be. The one way that does not do is
/// by gaps, for a record that is no repeat of centric.
fn poses_given(given: usize) -> String {
    match given {
        0 => "does not give its pose".to_owned(),
        1 => "gives its pose by groove_gaps_mm".to_owned(),
        given => format!("gives its pose in {given} ways"),
    }
}

impl SenselessCase {
    /// The field that the complaint is about.
    #[must_use]
    pub const fn field(&self) -> &'static str {
        match self {
            Self::TooFew { .. } => "in_centric_mm",
            Self::OutOfRange { field, .. } => field,
            Self::Gaps { .. } => "groove_gaps_mm",
            Self::NotThree { .. } => "occlusal_plane_mm",
            Self::TwoGuides => "incisal_guidance",
            Self::TwiceGrooves => "grooves_mm",
            Self::Nameless { field } | Self::Bench { field, .. } => field,
            Self::NoDistance => "mounting",
            _ => "records",
        }
    }
}
