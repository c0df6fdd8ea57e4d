//! What a run will take, found by computing a little of it.

use std::ops::Range;
use std::sync::atomic::{AtomicU64, Ordering};
use std::time::{Duration, Instant};

use arrow_array::RecordBatch;

use crate::error::RunError;
use crate::form::Form;
use crate::groups::{Grouping, Maker};
use crate::part::Part;
use crate::run::{pool, schema_of_part};
use crate::table::batch;
use files::Loaded;

/// How long each of the two probes goes on: long enough that the clock is fine beside it.
const PROBE: Duration = Duration::from_millis(500);
/// Stretches of rows, spread over all, that are probed for time.
const PLACES: u64 = 16;
/// Rows that are shown.
const SHOWN: u64 = 3;

/// What a run will take on this machine.
#[derive(Clone, Debug)]
pub struct Estimate {
    /// Rows of the study.
    pub study_rows: u64,
    /// Rows of the part asked for.
    pub rows: u64,
    /// Rows that are saved at a time.
    pub group_rows: u64,
    /// Threads of the probe with all of them.
    pub threads: usize,
    /// Rows computed and encoded in a second by one thread.
    pub rows_a_second_by_one: f64,
    /// Rows computed and encoded in a second by all threads.
    pub rows_a_second_by_all: f64,
    /// Rows tried for this estimate, at places spread over all; some of them again and again where they are few.
    pub tried: u64,
    /// Rows among them with a reason why something could not be measured.
    pub tried_with_reason: u64,
    /// Rows among them with a note.
    pub tried_with_note: u64,
    /// What the rows take in Parquet.
    parquet: Size,
    /// What they take in CSV.
    csv: Size,
    /// The first rows.
    pub first: RecordBatch,
}

/// What a table takes in one form.
#[derive(Clone, Copy, Debug)]
struct Size {
    /// Bytes of a row in its group.
    a_row: f64,
    /// Bytes that each group adds to the end of the file.
    a_group: f64,
    /// Bytes of beginning and end without any group: in Parquet the study itself and the columns' names.
    fixed: f64,
}

impl Estimate {
    /// How long all threads will take, in seconds.
    #[must_use]
    pub fn seconds(&self) -> f64 {
        self.rows as f64 / self.rows_a_second_by_all
    }

    /// How large the table will be, in bytes. Exact to the byte where all rows are of one group that could be tried
    /// whole.
    #[must_use]
    pub fn bytes(&self, form: Form) -> f64 {
        let Size { a_row, a_group, fixed } = match form {
            Form::Parquet => self.parquet,
            Form::Csv => self.csv,
        };
        fixed + self.rows.div_ceil(self.group_rows) as f64 * a_group + self.rows as f64 * a_row
    }
}

/// Computes some rows, spread over the part, to tell what all will take. `threads` 0 stands for as many
/// as the machine has.
///
/// # Errors
/// [`RunError`] where threads cannot be started.
pub fn estimate(loaded: &Loaded, part: Part, threads: usize) -> Result<Estimate, RunError> {
    let prepared = &loaded.prepared;
    let rows = part.rows(prepared.row_count());
    let schema = schema_of_part(loaded, part);
    let encoder = Form::Parquet.encoder(&schema, prepared)?;
    let maker = Maker::new(prepared, &schema, &encoder, false);
    let pool = pool(threads)?;
    let stretches = Stretches { rows: &rows, grouping: maker.grouping };
    let began = Instant::now();
    let (mut done, mut tried_with_reason, mut tried_with_note) = (0, 0, 0);
    for number in 0.. {
        let stretch = stretches.nth(number);
        done += stretch.end - stretch.start;
        if let Some(made) = maker.make(stretch, &|| false)? {
            tried_with_reason += made.with_reason;
            tried_with_note += made.with_note;
        }
        if began.elapsed() >= PROBE {
            break;
        }
    }
    let rows_a_second_by_one = rate(done, began.elapsed());
    let tried = done;
    let (next, done, began) = (AtomicU64::new(0), AtomicU64::new(0), Instant::now());
    let of_each = pool.broadcast(|_| {
        while began.elapsed() < PROBE {
            let stretch = stretches.nth(next.fetch_add(1, Ordering::Relaxed));
            let length = stretch.end - stretch.start;
            maker.make(stretch, &|| false)?;
            done.fetch_add(length, Ordering::Relaxed);
        }
        Ok(())
    });
    of_each.into_iter().collect::<Result<(), RunError>>()?;
    let rows_a_second_by_all = rate(done.into_inner(), began.elapsed());
    // As many rows in one piece as the probe has shown to take half a second.
    let affordable = (rows_a_second_by_one * PROBE.as_secs_f64()).max(1.0) as u64;
    let sized = rows.start..rows.end.min(rows.start + maker.grouping.rows.min(affordable));
    let size = |form: Form| -> Result<Size, RunError> {
        let encoder = form.encoder(&schema, prepared)?;
        let head = encoder.head().len();
        let made = Maker::new(prepared, &schema, &encoder, false).make(sized.clone(), &|| false)?;
        let (bytes, note) = made.map_or((0, None), |made| (made.bytes.body().len(), Some(made.bytes.note)));
        let end_without = encoder.tail(std::iter::empty())?.len();
        let end = encoder.tail(note.map(|note| Ok((head as u64, note))).into_iter())?.len();
        Ok(Size {
            a_row: bytes as f64 / (sized.end - sized.start).max(1) as f64,
            a_group: end.saturating_sub(end_without) as f64,
            fixed: (head + end_without) as f64,
        })
    };
    Ok(Estimate {
        study_rows: prepared.row_count(),
        rows: rows.end - rows.start,
        group_rows: maker.grouping.rows,
        threads: pool.current_num_threads(),
        rows_a_second_by_one,
        rows_a_second_by_all,
        tried,
        tried_with_reason,
        tried_with_note,
        parquet: size(Form::Parquet)?,
        csv: size(Form::Csv)?,
        first: batch(loaded, rows.start..rows.end.min(rows.start + SHOWN))?,
    })
}

fn rate(rows: u64, time: Duration) -> f64 {
    rows as f64 / time.as_secs_f64().max(1e-9)
}

/// Short stretches of rows, one after the other at places spread over all rows, again and again.
struct Stretches<'r> {
    rows: &'r Range<u64>,
    grouping: Grouping,
}

impl Stretches<'_> {
    fn nth(&self, number: u64) -> Range<u64> {
        let length = self.rows.end - self.rows.start;
        let step = length / PLACES;
        let (place, round) = (number % PLACES, number / PLACES);
        let piece = self.grouping.rows.min(8 * self.grouping.piece);
        let within = (round * piece) % step.max(1);
        let start = self.rows.start + place * step + within;
        start..self.rows.end.min(start + piece)
    }
}
