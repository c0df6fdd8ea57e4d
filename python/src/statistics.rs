//! What is made of a finished table.

use numpy::ndarray::Array2;
use numpy::{IntoPyArray, PyArray2, PyReadonlyArray1};
use pyo3::prelude::*;
use sim_core::study::statistics::{self, Estimate};

use crate::error::told;

/// Sobol' indices, one row a factor: the estimate and the ends of its interval.
#[pyclass(frozen, module = "eminentia")]
pub(crate) struct SobolIndices {
    #[pyo3(get)]
    first: Py<PyArray2<f64>>,
    #[pyo3(get)]
    total: Py<PyArray2<f64>>,
    #[pyo3(get)]
    groups: usize,
    #[pyo3(get)]
    left_out: usize,
    #[pyo3(get)]
    variance: f64,
}

#[pymethods]
impl SobolIndices {
    fn __repr__(&self) -> String {
        format!("<SobolIndices of {} groups>", self.groups)
    }
}

/// Sobol' indices of a measured column of a study whose plan is `Indices`.
#[pyfunction]
#[pyo3(signature = (output, *, factors, resamples = 1000, seed = 1))]
pub(crate) fn sobol_indices(
    py: Python<'_>,
    output: PyReadonlyArray1<'_, f64>,
    factors: usize,
    resamples: u32,
    seed: u64,
) -> PyResult<SobolIndices> {
    let Ok(output) = output.as_slice() else {
        return Err(told("output is not contiguous; give numpy.ascontiguousarray(output)"));
    };
    let found = py.detach(|| statistics::sobol_indices(output, factors, resamples, seed)).map_err(told)?;
    let table = |of: &dyn Fn(&statistics::FactorIndices) -> Estimate| {
        let numbers: Vec<f64> = found
            .factors
            .iter()
            .map(of)
            .flat_map(|Estimate { value, low, high }| [value, low, high])
            .collect();
        let array = Array2::from_shape_vec((found.factors.len(), 3), numbers).map_err(told)?;
        PyResult::Ok(array.into_pyarray(py).unbind())
    };
    Ok(SobolIndices {
        first: table(&|factor| factor.first)?,
        total: table(&|factor| factor.total)?,
        groups: found.groups,
        left_out: found.left_out,
        variance: found.variance,
    })
}
