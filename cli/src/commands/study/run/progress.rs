//! How far a study has come, on standard error.

use std::io::{self, IsTerminal as _};
use std::time::Instant;

use indicatif::{ProgressBar, ProgressStyle};
use study_run::Observer;
use words::number::{duration, whole};

use crate::progress::BETWEEN_LINES;
use crate::say;

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
