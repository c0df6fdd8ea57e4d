//! The tracing on the plate in the report.

use serde::Serialize;
use sim_core::tracing::Leg;

use crate::state::State;

/// The drawn tracing.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub(super) struct PlateLine {
    is_usual: bool,
    failed: Option<String>,
    /// Where the stylus stands: ahead of the apex and to its left.
    stylus_mm: Option<[f64; 2]>,
    /// Where the legs meet the arc, in their order.
    holes_mm: Vec<[f64; 2]>,
    apex_angle_deg: Option<f64>,
    /// The recorded tracing under it, and how far its points are off.
    under: Option<String>,
    off_mm: Option<f64>,
}

/// The line of the plate, where there is a tracer.
pub(super) fn line(state: &State) -> Option<PlateLine> {
    let drawn = state.plate.drawn.as_ref()?;
    let movement = state.shown.solved.excursion.movement();
    let stylus = drawn.stylus(&state.shown.scene, movement, &state.sample().placement);
    let setup = drawn.setup.as_ref();
    let holes = setup.map(|setup| Leg::ALL.map(|leg| setup.leg(leg).hole).to_vec()).unwrap_or_default();
    Some(PlateLine {
        is_usual: drawn.is_usual,
        failed: setup.err().cloned(),
        stylus_mm: stylus.map(|at| [at.forward.mm(), at.left.mm()]),
        holes_mm: holes.iter().map(|at| [at.forward.mm(), at.left.mm()]).collect(),
        apex_angle_deg: drawn.apex_angle().map(|angle| angle.degrees()),
        under: state.plate.under.as_ref().map(|under| under.name.clone()),
        off_mm: drawn.over.and_then(|over| over.whole).map(|apart| apart.rms.mm()),
    })
}
