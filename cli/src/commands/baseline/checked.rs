//! An instrument held against its baseline.

use sim_core::instrument::Baseline;
use sim_core::setting::{ChecklistItem, Departure};

/// The examiner's checklist of a scene's instrument, and every setting that departs from the baseline.
pub(super) struct BaselineReport {
    pub(super) title: String,
    pub(super) baseline: Baseline,
    /// Whether the baseline is the compiled-in example, since the scene has none of its own.
    pub(super) is_example: bool,
    pub(super) checklist: Vec<ChecklistItem>,
    pub(super) departures: Vec<Departure>,
}
