//! A study run into a file, by all cores, while Python can still be interrupted.

use std::path::PathBuf;
use std::sync::atomic::{AtomicBool, AtomicU64, Ordering};
use std::sync::mpsc::{RecvTimeoutError, channel};
use std::thread;
use std::time::Duration;

use pyo3::prelude::*;
use study_run::{Destination, Existing, Finished, FreeSpace, Loaded, Observer, Options, Part, RunError, run};

use crate::error::refusal;

/// Between two looks whether someone has pressed Ctrl-C, which a person does not feel.
const LOOK: Duration = Duration::from_millis(100);

/// What a run came to.
#[pyclass(frozen, module = "eminentia")]
pub(crate) struct Written {
    #[pyo3(get)]
    path: PathBuf,
    #[pyo3(get)]
    rows: u64,
    #[pyo3(get)]
    rows_before: u64,
    #[pyo3(get)]
    with_reason: Option<u64>,
    #[pyo3(get)]
    bytes: Option<u64>,
}

#[pymethods]
impl Written {
    fn __repr__(&self) -> String {
        format!("<Written {}, {} rows>", self.path.display(), self.rows)
    }
}

/// How a run is to be made, as Python gives it.
pub(crate) struct RunArguments {
    pub(crate) path: PathBuf,
    pub(crate) part: Option<(u32, u32)>,
    pub(crate) resume: bool,
    pub(crate) overwrite: bool,
    pub(crate) threads: usize,
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
            Some((number, of)) => Part::new(number, of).map_err(refusal)?,
        };
        Ok(Options {
            destination: Destination::File(self.path),
            existing,
            part,
            threads: self.threads,
            free_space: FreeSpace::Asked,
        })
    }
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
pub(crate) fn write(
    py: Python<'_>,
    loaded: &Loaded,
    arguments: RunArguments,
    callback: Option<&Py<PyAny>>,
) -> PyResult<Written> {
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
        // A channel is not shared between threads; this closure stays on its own.
        let receive = std::sync::Mutex::new(receive);
        loop {
            let waited = py.detach(|| match receive.lock() {
                Ok(receive) => receive.recv_timeout(LOOK),
                Err(_) => Err(RecvTimeoutError::Disconnected),
            });
            match waited {
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
    let finished =
        finished.ok_or_else(|| refusal("the run has come to no end; this is a fault of the program"))?;
    let written = written(finished)?;
    tell(py, callback, &progress)?;
    Ok(written)
}

fn tell(py: Python<'_>, callback: Option<&Py<PyAny>>, progress: &Progress) -> PyResult<()> {
    let Some(callback) = callback else { return Ok(()) };
    let (saved, of) = (progress.saved.load(Ordering::Relaxed), progress.of.load(Ordering::Relaxed));
    callback.call1(py, (saved, of)).map(drop)
}

fn written(finished: Result<Finished, RunError>) -> PyResult<Written> {
    let Finished { path, rows, there, with_reason, bytes, .. } = finished.map_err(refusal)?;
    Ok(Written { path: path.unwrap_or_default(), rows, rows_before: there, with_reason, bytes })
}
