//! What the report says of the second set-up.

use serde::Serialize;

use crate::kept::Beside;
use crate::state::State;

/// B, and how it differs from A.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub(super) struct KeptLine {
    name: String,
    beside: Beside,
    /// Where it stands; none where it has no pose there.
    at: Option<f64>,
    no_pose: Option<String>,
    /// Separation of A less that of B at each cusp of A, where B has such a cusp.
    separation_more_mm: Vec<Option<f64>>,
}

pub(super) fn line(state: &State) -> Option<KeptLine> {
    let kept = state.kept.as_ref()?;
    let more = state
        .shown
        .scene
        .cusps
        .iter()
        .zip(&state.sample().readings)
        .map(|(cusp, own)| kept.reading_of(cusp).map(|theirs| (own.separation - theirs.separation).mm()));
    Some(KeptLine {
        name: kept.set_up.name.clone(),
        beside: state.beside,
        at: kept.now.as_ref().ok().map(|sample| sample.driven),
        no_pose: kept.now.as_ref().err().cloned(),
        separation_more_mm: more.collect(),
    })
}
