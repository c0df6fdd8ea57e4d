//! A study run into a file, by all cores, while Python can still be interrupted.

use std::path::PathBuf;
use std::sync::Mutex;
use std::sync::atomic::{AtomicBool, AtomicU64, Ordering};
use std::sync::mpsc::{RecvTimeoutError, channel};
use std::thread;

use pyo3::prelude::*;
use pyo3::types::PyDict;
use study_run::{
    Destination, Existing, Finished, FreeSpace, Loaded, Observer, Options, Part, RunError, UnderWay, run,
};

use crate::error::refusal;
use crate::made::made;
use crate::number::Whole;
use crate::watch::{fault, wait};

/// How a run is to be made, as Python gives it.
pub(crate) struct RunArguments {
    pub(crate) path: PathBuf,
    pub(crate) part: Option<(Whole, Whole)>,
    pub(crate) resume: bool,
    pub(crate) overwrite: bool,
    pub(crate) threads: Whole,
    pub(crate) ignore_free_space: bool,
}

impl RunArguments {
    fn options(self) -> PyResult<Options> {
        let existing = match (self.resume, self.overwrite) {
            (false, false) => Existing::Refused,
            (true, false) => Existing::Resumed,
            (false, true) => Existing::Replaced,
            (true, true) => return Err(refusal("resume and overwrite are both asked for; give one of them")),
        };
        let part = match self.part {
            None => Part::WHOLE,
            Some((number, of)) => part(number, of)?,
        };
        Ok(Options {
            destination: Destination::File(self.path),
            existing,
            part,
            threads: self.threads.count("threads")?,
            under_way: UnderWay::Dropped,
            free_space: if self.ignore_free_space { FreeSpace::Ignored } else { FreeSpace::Asked },
        })
    }
}

/// One of several parts.
fn part(number: Whole, of: Whole) -> PyResult<Part> {
    let of = of.within("the number of parts", 1..=u32::MAX.into())?;
    let number = number.within("the part", 1..=of)?;
    let small = |number: u64| u32::try_from(number).map_err(refusal);
    Part::new(small(number)?, small(of)?).map_err(refusal)
}

/// How far a run has come, for another thread to see.
#[derive(Default)]
struct Progress {
    saved: AtomicU64,
    of: AtomicU64,
}

impl Observer for &Progress {
    fn begins(&mut self, there: u64, of: u64) {
        self.saved.store(there, Ordering::Relaxed);
        self.of.store(of, Ordering::Relaxed);
    }

    fn saved(&mut self, rows: u64) {
        self.saved.store(rows, Ordering::Relaxed);
    }
}

/// Runs the study on a thread of its own; this one sees to signals and tells `callback` how far it has come.
pub(crate) fn write<'py>(
    py: Python<'py>,
    loaded: &Loaded,
    arguments: RunArguments,
    callback: Option<&Py<PyAny>>,
) -> PyResult<Bound<'py, PyAny>> {
    let options = arguments.options()?;
    let (stop, progress) = (AtomicBool::new(false), Progress::default());
    let (send, receive) = channel();
    let (finished, interrupted) = thread::scope(|scope| {
        scope.spawn(|| {
            let finished = run(loaded, &options, &mut &progress, &stop);
            // Whoever waits for it is in this scope.
            let _ = send.send(finished);
        });
        let mut interrupted = Ok(());
        let receive = Mutex::new(receive);
        loop {
            match wait(py, &receive) {
                Ok(finished) => break (Some(finished), interrupted),
                Err(RecvTimeoutError::Disconnected) => break (None, interrupted),
                Err(RecvTimeoutError::Timeout) if interrupted.is_ok() => {
                    interrupted = py.check_signals().and_then(|()| tell(py, callback, &progress));
                    if interrupted.is_err() {
                        stop.store(true, Ordering::Relaxed);
                    }
                }
                Err(RecvTimeoutError::Timeout) => {}
            }
        }
    });
    interrupted?;
    let finished = finished.ok_or_else(fault)?.map_err(of_run)?;
    tell(py, callback, &progress)?;
    let Finished { path, rows, there, with_reason, bytes, .. } = finished;
    let fields = PyDict::new(py);
    fields.set_item("path", path.unwrap_or_default())?;
    fields.set_item("rows", rows)?;
    fields.set_item("rows_before", there)?;
    fields.set_item("with_reason", with_reason)?;
    fields.set_item("bytes", bytes)?;
    made(py, "Written", &fields)
}

fn tell(py: Python<'_>, callback: Option<&Py<PyAny>>, progress: &Progress) -> PyResult<()> {
    let Some(callback) = callback else { return Ok(()) };
    let (saved, of) = (progress.saved.load(Ordering::Relaxed), progress.of.load(Ordering::Relaxed));
    callback.call1(py, (saved, of)).map(drop)
}

/// A run's error, in which the options are those of Python.
pub(crate) fn of_run(error: RunError) -> PyErr {
    match error {
        RunError::NoSuchForm { name } => {
            refusal(format_args!("{name}: unknown file extension; use .parquet or .csv"))
        }
        RunError::AlreadyThere { name } => {
            refusal(format_args!("{name}: is already there; overwrite=True computes it anew"))
        }
        RunError::Unfinished { name } => refusal(format_args!(
            "{name}: an unfinished run is already there; resume=True goes on with it, overwrite=True begins anew"
        )),
        RunError::NoFile { name } => refusal(format_args!("{name}: is no ordinary file; give a file")),
        RunError::OfAnother { name, begun, now } => refusal(format_args!(
            "{name}: cannot go on: it was begun {begun}, and this is {now}; overwrite=True begins anew"
        )),
        RunError::Untold { name } => refusal(format_args!(
            "{name}: is already there, and nothing beside it is unfinished; it does not tell what study it is of, as a CSV never does, \
             so that overwrite=True is needed to compute it anew"
        )),
        RunError::NoRoom { name, needed, free } => refusal(format_args!(
            "{name}: needs about {needed}, and {free} are free on its disk; record less, run a part of it (part=), or \
             write elsewhere"
        )),
        RunError::Broken { name, error, saved } => refusal(format_args!(
            "{name} could not be written to its end: {error}; {saved} rows are kept, resume=True goes on from there"
        )),
        RunError::Threads(why) => {
            refusal(format_args!("threads cannot be started: {why}; fewer, by threads=, may do"))
        }
        error => refusal(error),
    }
}
