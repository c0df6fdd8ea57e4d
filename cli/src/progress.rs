//! How far a long run has come, on standard error.

use std::cell::Cell;
use std::io::{self, IsTerminal as _};
use std::time::{Duration, Instant};

use indicatif::{ProgressBar, ProgressStyle};
use sim_core::scene::Scene;
use study_run::Observer;

use crate::output::{Format, Output};
use crate::say;
use words::number::{duration, whole};

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
    pub(crate) fn of(scene: &Scene, output: &Output, format: Format) -> Self {
        let total = scene.samples.get().saturating_mul(scene.excursions.len() as u64);
        let in_the_way = output.is_standard() && format != Format::Table && io::stdout().is_terminal();
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

/// Between two lines about a run where no bar can be drawn, as in a batch job's log.
const BETWEEN_LINES: Duration = Duration::from_secs(10);

/// How far a study has come: a bar on a terminal, plain lines elsewhere.
pub(crate) struct RowProgress {
    bar: Option<ProgressBar>,
    began: Instant,
    last_line: Instant,
    there: u64,
    of: u64,
}

impl RowProgress {
    /// Shows nothing until the run begins.
    pub(crate) fn new() -> Self {
        let now = Instant::now();
        Self { bar: None, began: now, last_line: now, there: 0, of: 0 }
    }

    fn line(&mut self, rows: u64) {
        if self.last_line.elapsed() < BETWEEN_LINES {
            return;
        }
        self.last_line = Instant::now();
        let rate = (rows - self.there) as f64 / self.began.elapsed().as_secs_f64();
        let (there, of) = (whole(rows), whole(self.of));
        let left = if rate > 0.0 { duration((self.of - rows) as f64 / rate) } else { "unknown".to_owned() };
        say::hint(&format_args!(
            "{there} of {of} rows saved, {} a second, time left: {left}",
            whole(rate as u64)
        ));
    }
}

impl Observer for RowProgress {
    fn begins(&mut self, there: u64, of: u64) {
        (self.there, self.of) = (there, of);
        if there > 0 && there < of {
            say::hint(&format_args!("Going on after {} of {} rows", whole(there), whole(of)));
        }
        if !io::stderr().is_terminal() {
            return;
        }
        let bar = ProgressBar::new(of).with_position(there);
        let template = "{human_pos} of {human_len} rows saved {wide_bar} {per_sec} {eta}";
        if let Ok(style) = ProgressStyle::with_template(template) {
            bar.set_style(style);
        }
        bar.reset_eta();
        self.bar = Some(bar);
    }

    fn saved(&mut self, rows: u64) {
        match &self.bar {
            Some(bar) => bar.set_position(rows),
            None => self.line(rows),
        }
    }
}

impl Drop for RowProgress {
    fn drop(&mut self) {
        if let Some(bar) = &self.bar {
            bar.finish_and_clear();
        }
    }
}
