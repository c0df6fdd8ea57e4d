//! What became of each record of a case.

use super::kind::RecordKind;
use super::reading::RecordReading;
use crate::units::Length;

/// One record as read.
#[derive(Clone, Debug, PartialEq)]
pub struct ReadRecord {
    /// Which excursion it was taken in.
    pub kind: RecordKind,
    /// Root mean square misfit of its landmarks; `None` for one given in another way.
    pub fit_rms: Option<Length>,
    /// Misfit of each landmark, in order; empty where there are none.
    pub residuals: Vec<Length>,
    /// The pose and the condyles; `None` for a record given by gaps or by scale readings.
    pub reading: Option<RecordReading>,
}

impl ReadRecord {
    /// Whether its jaw pose is known and asks something of the guides.
    #[must_use]
    pub fn closes_by_pose(&self) -> bool {
        self.kind != RecordKind::Centric && self.reading.is_some()
    }
}
