//! What became of each record of a case.

use super::case::RecordKind;
use super::reading::RecordReading;
use crate::units::Length;

/// One record as read.
#[derive(Clone, Debug, PartialEq)]
pub struct ReadRecord {
    /// Which excursion it was taken in.
    pub kind: RecordKind,
    /// Root mean square misfit of its landmarks; `None` for one given as a matrix or by gaps.
    pub fit_rms: Option<Length>,
    /// Misfit of each landmark, in order; empty where there are none.
    pub residuals: Vec<Length>,
    /// The pose and the condyles; `None` for a centric repeat given by gaps.
    pub reading: Option<RecordReading>,
}
