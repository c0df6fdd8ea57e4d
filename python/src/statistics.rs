//! What is made of a finished table.

use numpy::ndarray::Array2;
use numpy::{IntoPyArray, PyArray2, PyReadonlyArray1};
use pyo3::prelude::*;
use sim_core::study::statistics::{self, Estimate};

use crate::error::refusal;

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
        return Err(refusal("output is not contiguous; give numpy.ascontiguousarray(output)"));
    };
    let indices =
        py.detach(|| statistics::sobol_indices(output, factors, resamples, seed)).map_err(refusal)?;
    let table = |of: &dyn Fn(&statistics::FactorIndices) -> Estimate| {
        let numbers: Vec<f64> = indices
            .factors
            .iter()
            .map(of)
            .flat_map(|Estimate { value, low, high }| [value, low, high])
            .collect();
        let array = Array2::from_shape_vec((indices.factors.len(), 3), numbers).map_err(refusal)?;
        PyResult::Ok(array.into_pyarray(py).unbind())
    };
    Ok(SobolIndices {
        first: table(&|factor| factor.first)?,
        total: table(&|factor| factor.total)?,
        groups: indices.groups,
        left_out: indices.left_out,
        variance: indices.variance,
    })
}
