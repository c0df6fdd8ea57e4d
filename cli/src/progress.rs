//! How far a long run has come, on standard error.

use std::cell::Cell;
use std::io::{self, IsTerminal as _};

use indicatif::{ProgressBar, ProgressStyle};
use sim_core::scene::Scene;

use crate::format::FormatName;
use crate::output::Output;

/// Below this a run is over before a bar could be read.
const LONG_RUN: u64 = 400_000;
/// Samples between two looks at the bar, so that it costs nothing.
const STRIDE: u64 = 1 << 15;

/// Counts samples; shows them when the run is long and a person watches.
pub(crate) struct Progress {
    bar: Option<ProgressBar>,
    since: Cell<u64>,
}

impl Progress {
    /// Shows nothing.
    pub(crate) fn none() -> Self {
        Self { bar: None, since: Cell::new(0) }
    }

    /// For a run over the scene. A bar would run through output on the same terminal, unless that
    /// comes all at the end, as a table does.
    pub(crate) fn of(scene: &Scene, output: &Output, format: FormatName) -> Self {
        let total = scene.samples.get().saturating_mul(scene.excursions.len() as u64);
        let in_the_way = output.is_standard() && format != FormatName::Table && io::stdout().is_terminal();
        if total < LONG_RUN || in_the_way || !io::stderr().is_terminal() {
            return Self::none();
        }
        let bar = ProgressBar::new(total);
        if let Ok(style) = ProgressStyle::with_template("{human_pos} of {human_len} samples {wide_bar} {eta}")
        {
            bar.set_style(style);
        }
        Self { bar: Some(bar), since: Cell::new(0) }
    }

    /// One sample more.
    pub(crate) fn tick(&self) {
        let Some(bar) = &self.bar else { return };
        self.since.set(self.since.get() + 1);
        if self.since.get() == STRIDE {
            bar.inc(self.since.take());
        }
    }
}

impl Drop for Progress {
    fn drop(&mut self) {
        if let Some(bar) = &self.bar {
            bar.finish_and_clear();
        }
    }
}
