//! What is raised, in words that know nothing of a command line.

use std::fmt::Display;

use files::{LoadError, SceneCastsError, TextError};
use pyo3::{IntoPyObjectExt, PyErr, Python, pyfunction};
use words::quoted::message;

pyo3::import_exception!(eminentia._errors, Error);
pyo3::import_exception!(eminentia._errors, FileMissing);

/// As the system counts it, on every system.
const NO_SUCH_FILE: i32 = 2;

/// A message that may quote what was given: on one line, everything in it seen, and of a bearable length. For what is
/// raised in Python.
#[pyfunction]
pub(crate) fn said(what: &str) -> String {
    message(what)
}

/// An error of the library in its own words.
pub(crate) fn refusal(error: impl Display) -> PyErr {
    Error::new_err(message(&error.to_string()))
}

/// A file that is not there.
fn missing(name: &str, what: &str) -> PyErr {
    Python::attach(|py| {
        let arguments = (NO_SUCH_FILE, format!("{}: no such file", message(what)), name);
        arguments.into_py_any(py).map_or_else(|error| error, FileMissing::new_err)
    })
}

/// A text that cannot be read.
pub(crate) fn of_text(error: TextError) -> PyErr {
    match error {
        TextError::Missing { name, kind } => missing(&name, kind.name),
        error => refusal(error),
    }
}

/// A study that cannot be had.
pub(crate) fn of_study(error: LoadError) -> PyErr {
    match error {
        LoadError::Study(error) => of_text(error),
        LoadError::Scene { study, error: TextError::Missing { name, .. } } => {
            missing(&name, &format!("base scene of {study}"))
        }
        LoadError::Casts { scene, error } => match missing_cast(&error) {
            Some(name) => missing(name, &format!("cast of {scene}")),
            None => refusal(format_args!("{scene}: {error}")),
        },
        error @ LoadError::Scene { .. } => refusal(error),
    }
}

/// Casts that cannot be had.
pub(crate) fn of_casts(error: &SceneCastsError) -> PyErr {
    missing_cast(error).map_or_else(|| refusal(error), |name| missing(name, "cast"))
}

/// The file of a cast that is not there.
fn missing_cast(error: &SceneCastsError) -> Option<&str> {
    match error {
        SceneCastsError::File(error) if error.is_missing() => Some(&error.name),
        _ => None,
    }
}
