//! How far each record of a case goes.

use super::case::Case;
use super::front::Front;
use super::kind::RecordKind;
use super::program::{ProgramError, Programmed, ReadRecord};
use crate::units::Length;

impl Case {
    /// How far each record goes, in their order: the displacement of the incisal point projected on
    /// the occlusal plane, which is what a tracing shows. Nothing for a centric repeat.
    ///
    /// # Errors
    /// [`ProgramError::Scene`] names the field where incisal point or plane cannot be told.
    pub fn record_distances(&self, programmed: &Programmed) -> Result<Vec<Option<Length>>, ProgramError> {
        let of = |read: &ReadRecord| match &read.reading {
            Some(reading) if read.kind != RecordKind::Centric => {
                Front::of(self, &programmed.mounting).map(|front| Some(front.distance(&reading.jaw)))
            }
            _ => Ok(None),
        };
        programmed.records.iter().map(of).collect()
    }
}
