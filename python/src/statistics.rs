//! What is made of a finished table.

use numpy::PyReadonlyArray1;
use pyo3::prelude::*;
use pyo3::types::PyDict;
use sim_core::study::statistics::{self, Estimate, LEAST_RESAMPLES, MOST_RESAMPLES};

use crate::error::refusal;
use crate::made::{kept, made};
use crate::number::Whole;
use crate::watch::{Takes, watched};

/// Sobol' indices of a contiguous column; :func:`eminentia.sobol_indices` takes whatever NumPy takes for one.
#[pyfunction]
pub(crate) fn sobol_indices<'py>(
    py: Python<'py>,
    output: PyReadonlyArray1<'_, f64>,
    factors: Whole,
    resamples: Whole,
    seed: Whole,
) -> PyResult<Bound<'py, PyAny>> {
    let factors = factors.count("factors")?;
    let resamples = resamples.within("resamples", LEAST_RESAMPLES.into()..=MOST_RESAMPLES.into())?;
    let resamples = u32::try_from(resamples).map_err(refusal)?;
    let seed = seed.within("seed", 0..=u64::MAX)?;
    let output = output.as_slice().map_err(refusal)?.to_vec();
    let indices =
        watched(py, Takes::Long, move |_| statistics::sobol_indices(&output, factors, resamples, seed))?;
    let indices = indices.map_err(refusal)?;
    let table = |of: &dyn Fn(&statistics::FactorIndices) -> Estimate| {
        let numbers: Vec<f64> = indices
            .factors
            .iter()
            .map(of)
            .flat_map(|Estimate { value, low, high }| [value, low, high])
            .collect();
        kept(py, numbers, &[indices.factors.len(), 3])
    };
    let fields = PyDict::new(py);
    fields.set_item("first", table(&|factor| factor.first)?)?;
    fields.set_item("total", table(&|factor| factor.total)?)?;
    fields.set_item("groups", indices.groups)?;
    fields.set_item("left_out", indices.left_out)?;
    fields.set_item("variance", indices.variance)?;
    made(py, "SobolIndices", &fields)
}
