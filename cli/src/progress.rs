//! How far a long run has come, on standard error.

use std::cell::Cell;
use std::io::{self, IsTerminal as _};
use std::time::{Duration, Instant};

use indicatif::{ProgressBar, ProgressStyle};
use sim_core::scene::Scene;

use crate::output::{Format, Output};
use crate::say;
use words::number::{duration, whole};

/// Below this a run is over before a bar could be read.
const LONG_RUN: u64 = 400_000;
/// The same where casts are searched in every pose: a millisecond and more each.
const LONG_RUN_ON_CASTS: u64 = 400;
/// Samples between two looks at the bar, so that it costs nothing.
const STRIDE: u64 = 1 << 15;

/// Counts samples or steps; shows them when the run is long, as a bar to a person and as lines in a log.
pub(crate) struct Progress {
    shown: Option<Shown>,
    since: Cell<u64>,
    stride: u64,
}

struct Shown {
    bar: Option<ProgressBar>,
    /// What is counted, in the plural.
    what: &'static str,
    began: Instant,
    last_line: Cell<Instant>,
    done: Cell<u64>,
    of: u64,
}

impl Progress {
    /// Shows nothing.
    pub(crate) const fn none() -> Self {
        Self { shown: None, since: Cell::new(0), stride: STRIDE }
    }

    /// For a run over the scene. A bar would run through output on the same terminal, unless that
    /// comes all at the end, as a table does.
    pub(crate) fn of(scene: &Scene, output: &Output, format: Format) -> Self {
        let total = scene.samples.get().saturating_mul(scene.excursions.len() as u64);
        let in_the_way = output.is_standard() && format != Format::Table && io::stdout().is_terminal();
        let has_casts = scene.casts.is_some() || scene.invented_casts.is_some();
        let (long, stride) = if has_casts { (LONG_RUN_ON_CASTS, 1) } else { (LONG_RUN, STRIDE) };
        if total < long || in_the_way {
            return Self::none();
        }
        Self::counting(total, "samples", stride)
    }

    /// For so many steps that may each take seconds.
    pub(crate) fn of_steps(total: u64) -> Self {
        Self::counting(total, "steps", 1)
    }

    fn counting(of: u64, what: &'static str, stride: u64) -> Self {
        let bar = io::stderr().is_terminal().then(|| {
            let bar = ProgressBar::new(of);
            let template = format!("{{human_pos}} of {{human_len}} {what} {{wide_bar}} {{eta}}");
            if let Ok(style) = ProgressStyle::with_template(&template) {
                bar.set_style(style);
            }
            bar
        });
        let now = Instant::now();
        let shown = Shown { bar, what, began: now, last_line: Cell::new(now), done: Cell::new(0), of };
        Self { shown: Some(shown), since: Cell::new(0), stride }
    }

    /// One more.
    pub(crate) fn tick(&self) {
        let Some(shown) = &self.shown else { return };
        self.since.set(self.since.get() + 1);
        if self.since.get() == self.stride {
            shown.more(self.since.take());
        }
    }
}

impl Shown {
    fn more(&self, by: u64) {
        let done = self.done.get() + by;
        self.done.set(done);
        if let Some(bar) = &self.bar {
            bar.inc(by);
        } else if self.last_line.get().elapsed() >= BETWEEN_LINES && done < self.of {
            self.last_line.set(Instant::now());
            let left = self.began.elapsed().as_secs_f64() * (self.of - done) as f64 / done as f64;
            let (done, of) = (whole(done), whole(self.of));
            say::hint(&format_args!("{done} of {of} {}, time left: {}", self.what, duration(left)));
        }
    }
}

impl Drop for Progress {
    fn drop(&mut self) {
        if let Some(bar) = self.shown.as_ref().and_then(|shown| shown.bar.as_ref()) {
            bar.finish_and_clear();
        }
    }
}

/// Between two lines about a run where no bar can be drawn, as in a batch job's log.
pub(crate) const BETWEEN_LINES: Duration = Duration::from_secs(10);
