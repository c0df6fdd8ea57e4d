//! The list of settings.

use pyo3::prelude::*;
use pyo3::types::PyDict;
use sim_core::setting::listed;

use crate::made::made;

/// Every numeric setting that a scene may have, by name with unit, range and meaning.
#[pyfunction]
pub(crate) fn settings(py: Python<'_>) -> PyResult<Vec<Bound<'_, PyAny>>> {
    let setting = |entry: sim_core::setting::Listed| {
        let fields = PyDict::new(py);
        fields.set_item("name", entry.name)?;
        fields.set_item("label", entry.facts.label)?;
        fields.set_item("unit", entry.facts.unit.words())?;
        fields.set_item("min", entry.facts.min)?;
        fields.set_item("max", entry.facts.max)?;
        fields.set_item("each_side", entry.each_side)?;
        fields.set_item("doc", entry.facts.doc)?;
        made(py, "Setting", &fields)
    };
    listed().map(setting).collect()
}
