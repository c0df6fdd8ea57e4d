//! A recorded tracing that lies under the drawn one.

use sim_core::tracing::{ExamineError, Findings, Leg, PlatePoint, Recorded, USUAL_RADIUS, examine};

/// A recorded tracing, examined.
#[derive(Clone, Debug, PartialEq)]
pub struct Under {
    /// Name of its file.
    pub name: String,
    /// As it was read.
    pub recorded: Recorded,
    /// What the examination found.
    pub findings: Findings,
}

impl Under {
    /// Examines a tracing.
    ///
    /// # Errors
    /// [`ExamineError`] where nothing can be read from it.
    pub fn of(name: String, recorded: Recorded) -> Result<Self, ExamineError> {
        let findings = examine(&recorded, USUAL_RADIUS)?;
        Ok(Self { name, recorded, findings })
    }

    /// The points of a leg, seen from the apex that was found.
    pub fn leg(&self, leg: Leg) -> impl Iterator<Item = PlatePoint> {
        let apex = self.findings.apex.at;
        self.recorded.leg(leg).iter().map(move |point| PlatePoint {
            forward: point.forward - apex.forward,
            left: point.left - apex.left,
        })
    }
}
