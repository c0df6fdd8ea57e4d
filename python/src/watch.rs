//! Work that takes long, while Python can still be interrupted.

use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::mpsc::{Receiver, RecvTimeoutError, channel};
use std::sync::{Arc, Mutex};
use std::thread;
use std::time::Duration;

use pyo3::exceptions::PyMemoryError;
use pyo3::prelude::*;

use crate::error::refusal;

/// Between two looks whether someone has pressed Ctrl-C, which a person does not feel.
pub(crate) const LOOK: Duration = Duration::from_millis(50);

/// Whether work is worth a thread of its own.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(crate) enum Takes {
    /// A few milliseconds at most.
    NoTime,
    /// Longer, or nobody knows.
    Long,
}

impl Takes {
    /// So many rows, which take seconds each where casts are searched.
    pub(crate) const fn rows(rows: u64, has_casts: bool) -> Self {
        if rows <= 1024 && !has_casts { Self::NoTime } else { Self::Long }
    }
}

/// Does something without Python's lock, and raises what a signal raises.
///
/// Who presses Ctrl-C has Python back at once. The work is told to stop; it ends on its own thread as soon as it
/// looks, and what it made is dropped.
pub(crate) fn watched<T: Send + 'static>(
    py: Python<'_>,
    takes: Takes,
    work: impl FnOnce(&AtomicBool) -> T + Send + 'static,
) -> PyResult<T> {
    if takes == Takes::NoTime {
        return Ok(py.detach(|| work(&AtomicBool::new(false))));
    }
    let stop = Arc::new(AtomicBool::new(false));
    let (send, receive) = channel();
    let seen = Arc::clone(&stop);
    let spawned = thread::Builder::new().name("eminentia".to_owned()).spawn(move || {
        // Nobody listens once it was interrupted.
        let _ = send.send(work(&seen));
    });
    spawned.map_err(|error| refusal(format_args!("no thread can be started: {error}")))?;
    let receive = Mutex::new(receive);
    loop {
        match wait(py, &receive) {
            Ok(done) => return Ok(done),
            Err(RecvTimeoutError::Timeout) => {
                if let Err(raised) = py.check_signals() {
                    stop.store(true, Ordering::Relaxed);
                    return Err(raised);
                }
            }
            Err(RecvTimeoutError::Disconnected) => return Err(fault()),
        }
    }
}

/// Waits for a while without Python's lock.
pub(crate) fn wait<T: Send>(py: Python<'_>, receive: &Mutex<Receiver<T>>) -> Result<T, RecvTimeoutError> {
    py.detach(|| match receive.lock() {
        Ok(receive) => receive.recv_timeout(LOOK),
        Err(_) => Err(RecvTimeoutError::Disconnected),
    })
}

/// What came to no end though nobody stopped it.
pub(crate) fn fault() -> PyErr {
    refusal("the work has come to no end; this is a fault of the program")
}

/// Refuses so many numbers as no memory holds, before the system ends the program for them.
pub(crate) fn check_room(numbers: Option<usize>, instead: &str) -> PyResult<()> {
    let has_room = |numbers: usize| Vec::<f64>::new().try_reserve_exact(numbers).is_ok();
    if numbers.is_some_and(has_room) {
        return Ok(());
    }
    let size = match numbers {
        #[allow(clippy::cast_precision_loss)] // to be read
        Some(numbers) => format!("{:.1} GB", numbers as f64 * 8e-9),
        None => "more than any memory".to_owned(),
    };
    Err(PyMemoryError::new_err(format!("the numbers would take {size}; {instead}")))
}
