//! What is drawn, whatever its form.

use sim_core::viva::{Viva, VivaQuestion};

/// Questions with their key.
pub(super) struct VivaReport {
    pub(super) viva: Viva,
    pub(super) questions: Vec<VivaQuestion>,
}
