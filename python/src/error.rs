//! The package's one exception.

use std::fmt::Display;

use pyo3::PyErr;
use pyo3::exceptions::PyValueError;

pyo3::create_exception!(
    eminentia,
    Error,
    PyValueError,
    "What was given cannot be used: says what, where, and what would be accepted."
);

/// An error of the library in its own words.
pub(crate) fn refusal(error: impl Display) -> PyErr {
    Error::new_err(error.to_string())
}
