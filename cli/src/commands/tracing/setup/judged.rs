//! A tracer judged.

use sim_core::tracing::TracingSetup;

/// A tracer set up, with the title of its scene.
pub(super) struct SetupReport {
    pub(super) title: String,
    pub(super) setup: TracingSetup,
}
