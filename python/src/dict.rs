//! What a file says, as dictionaries: read by the same rules as the file, and written with the same names.

use pyo3::exceptions::PyTypeError;
use pyo3::prelude::*;
use pyo3::types::{PyAnyMethods, PyMapping};
use pythonize::Depythonizer;
use serde::Serialize;
use serde::de::DeserializeOwned;

use crate::error::refusal;

/// What a mapping says; `kind` is what it is to be. NumPy's arrays, scenes and whatever else stands for plain values
/// have been turned into those by `eminentia._dicts`.
pub(crate) fn read<T: DeserializeOwned>(given: &Bound<'_, PyAny>, kind: &str) -> PyResult<T> {
    if given.cast::<PyMapping>().is_err() {
        let what = given.get_type().name()?;
        return Err(PyTypeError::new_err(format!(
            "a {kind} is given as a mapping, as its file names the fields, not as {what}"
        )));
    }
    let plain = given.py().import("eminentia._dicts")?.getattr("plain")?.call1((given,))?;
    serde_path_to_error::deserialize(&mut Depythonizer::from_object(&plain)).map_err(|error| {
        let path = error.path().to_string();
        let why = error.into_inner();
        // Nothing but the whole has the path `.`.
        if path == "." {
            refusal(format_args!("{kind}: {why}"))
        } else {
            refusal(format_args!("{kind}: {path}: {why}"))
        }
    })
}

/// The same as dictionaries, lists, numbers and words.
pub(crate) fn written<'py>(py: Python<'py>, what: &impl Serialize) -> PyResult<Bound<'py, PyAny>> {
    pythonize::pythonize(py, what).map_err(refusal)
}

/// A report as the command line's JSON has it, with what to keep in mind.
pub(crate) fn report<'py>(py: Python<'py>, what: &impl Serialize) -> PyResult<Bound<'py, PyAny>> {
    let object = written(py, what)?;
    object.set_item("caution", words::CAUTION)?;
    Ok(object)
}
