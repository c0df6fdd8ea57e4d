//! What the report says of the projections.

use serde::Serialize;

use crate::projections::{Arrangement, Spread};
use crate::state::State;

/// The projections as they are looked at.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub(super) struct ProjectionsLine {
    arrangement: Arrangement,
    spread: Spread,
    /// Places along each border, in the order hinge, protrusive, right, left; none while it is not drawn.
    envelope: Option<[usize; 4]>,
    /// What is said of borders that end early.
    ends: Vec<String>,
}

pub(super) fn line(state: &State) -> Option<ProjectionsLine> {
    let view = &state.projections;
    let envelope = state.envelope.as_ref().filter(|_| view.envelope);
    view.arrangement.has_projections().then(|| ProjectionsLine {
        arrangement: view.arrangement,
        spread: view.spread,
        envelope: envelope
            .map(|solved| solved.envelope.paths().each_ref().map(|path| path.placements().len())),
        ends: envelope.map(|solved| solved.ends().collect()).unwrap_or_default(),
    })
}
