//! What is made of a finished table.

use std::sync::Arc;

use numpy::PyReadonlyArray1;
use pyo3::prelude::*;
use pyo3::types::PyDict;
use sim_core::study::GroupSensitivity;
use sim_core::study::statistics::{
    self, Estimate, LEAST_RESAMPLES, MOST_RESAMPLES, Resampling, SobolIndices,
};

use crate::error::refusal;
use crate::made::{kept, made};
use crate::number::Whole;
use crate::study::Study;
use crate::watch::{Takes, watched};

fn resamples_given(resamples: &Whole) -> PyResult<u32> {
    let resamples = resamples.within("resamples", LEAST_RESAMPLES.into()..=MOST_RESAMPLES.into())?;
    u32::try_from(resamples).map_err(refusal)
}

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
    let resamples = resamples_given(&resamples)?;
    let seed = seed.within("seed", 0..=u64::MAX)?;
    let output = output.as_slice().map_err(refusal)?.to_vec();
    let resampling = Resampling::Bootstrap { resamples, seed };
    let indices =
        watched(py, Takes::Long, move |_| statistics::sobol_indices_of(&output, factors, false, resampling))?;
    indices_made(py, &indices.map_err(refusal)?)
}

/// What a contiguous column tells of a study's factors; :func:`eminentia.sensitivity` takes whatever NumPy takes for one.
#[pyfunction]
pub(crate) fn sensitivity<'py>(
    py: Python<'py>,
    study: &Study,
    output: PyReadonlyArray1<'_, f64>,
    start: Whole,
    resamples: Whole,
    seed: Whole,
) -> PyResult<Bound<'py, PyAny>> {
    let start = start.within("start", 0..=u64::MAX)?;
    let bootstrap = (resamples_given(&resamples)?, seed.within("seed", 0..=u64::MAX)?);
    let output = output.as_slice().map_err(refusal)?.to_vec();
    let loaded = Arc::clone(study.loaded());
    let prepared = &loaded.prepared;
    let rows = prepared.row_count();
    if start.checked_add(output.len() as u64).is_none_or(|end| end > rows) {
        return Err(refusal(format_args!(
            "output has {} numbers from row {start} on, and the study {rows} rows; give the numbers of rows that it has",
            output.len()
        )));
    }
    let plan = prepared.study().plan.name();
    let told = watched(py, Takes::Long, {
        let loaded = Arc::clone(&loaded);
        move |_| loaded.prepared.group_sensitivity(&output, start, bootstrap)
    })?;
    let Some(told) = told else {
        return Err(refusal(format_args!(
            "the plan {plan} has no whole group of rows here that tells of its factors; the plans Indices, \
             ElementaryEffects and Shapley have"
        )));
    };
    match told.map_err(refusal)? {
        GroupSensitivity::Indices(indices) => indices_made(py, &indices),
        GroupSensitivity::Effects(effects) => {
            let fields = PyDict::new(py);
            let all = &effects.factors;
            fields.set_item("size", estimates(py, all.iter().map(|own| own.size))?)?;
            fields.set_item("mean", estimates(py, all.iter().map(|own| own.mean))?)?;
            fields.set_item("spread", estimates(py, all.iter().map(|own| own.spread))?)?;
            fields.set_item("trajectories", effects.trajectories)?;
            fields.set_item("left_out", effects.left_out)?;
            made(py, "ElementaryEffects", &fields)
        }
        GroupSensitivity::Shares(shares) => {
            let fields = PyDict::new(py);
            let all = &shares.factors;
            fields.set_item("share", estimates(py, all.iter().map(|own| own.share))?)?;
            fields.set_item("alone", estimates(py, all.iter().map(|own| own.alone))?)?;
            fields.set_item("last", estimates(py, all.iter().map(|own| own.last))?)?;
            fields.set_item("groups", shares.groups)?;
            fields.set_item("left_out", shares.left_out)?;
            fields.set_item("variance", shares.variance)?;
            made(py, "ShapleyEffects", &fields)
        }
    }
}

/// (numbers, 3): each with the ends of its interval.
fn estimates(py: Python<'_>, all: impl Iterator<Item = Estimate>) -> PyResult<Bound<'_, PyAny>> {
    let numbers: Vec<f64> = all.flat_map(|Estimate { value, low, high }| [value, low, high]).collect();
    let count = numbers.len() / 3;
    Ok(kept(py, numbers, &[count, 3])?.into_any())
}

fn indices_made<'py>(py: Python<'py>, indices: &SobolIndices) -> PyResult<Bound<'py, PyAny>> {
    let fields = PyDict::new(py);
    fields.set_item("first", estimates(py, indices.factors.iter().map(|own| own.first))?)?;
    fields.set_item("total", estimates(py, indices.factors.iter().map(|own| own.total))?)?;
    let pairs: Vec<(usize, usize)> = indices.pairs.iter().map(|pair| pair.factors).collect();
    fields.set_item("pairs", pairs)?;
    fields.set_item("second", estimates(py, indices.pairs.iter().map(|pair| pair.index))?)?;
    fields.set_item("groups", indices.groups)?;
    fields.set_item("left_out", indices.left_out)?;
    fields.set_item("variance", indices.variance)?;
    made(py, "SobolIndices", &fields)
}
