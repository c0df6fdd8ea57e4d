//! Results, which are classes written in Python: what they hold and mean stands there once, for people and stubs.

use numpy::ndarray::{Array, IxDyn};
use numpy::{Element, IntoPyArray, PyArrayDyn, PyArrayMethods};
use pyo3::prelude::*;
use pyo3::types::PyDict;

use crate::error::refusal;

/// A result of that class, with these fields.
pub(crate) fn made<'py>(
    py: Python<'py>,
    class: &str,
    fields: &Bound<'py, PyDict>,
) -> PyResult<Bound<'py, PyAny>> {
    py.import("eminentia._results")?.getattr(class)?.call((), Some(fields))
}

/// Numbers as an array of that shape, which takes over their memory.
pub(crate) fn array<'py, T: Element>(
    py: Python<'py>,
    numbers: Vec<T>,
    shape: &[usize],
) -> PyResult<Bound<'py, PyArrayDyn<T>>> {
    let array = Array::from_shape_vec(IxDyn(shape), numbers).map_err(refusal)?;
    Ok(array.into_pyarray(py))
}

/// The same, never changed.
pub(crate) fn kept<'py, T: Element>(
    py: Python<'py>,
    numbers: Vec<T>,
    shape: &[usize],
) -> PyResult<Bound<'py, PyArrayDyn<T>>> {
    let array = array(py, numbers, shape)?;
    array.readwrite().make_nonwriteable();
    Ok(array)
}
