//! The list of settings.

use pyo3::prelude::*;
use sim_core::setting::listed;

/// One numeric setting.
#[pyclass(frozen, module = "eminentia")]
pub(crate) struct Setting {
    #[pyo3(get)]
    name: String,
    #[pyo3(get)]
    label: &'static str,
    #[pyo3(get)]
    unit: &'static str,
    #[pyo3(get)]
    min: f64,
    #[pyo3(get)]
    max: f64,
    #[pyo3(get)]
    each_side: bool,
    #[pyo3(get)]
    doc: &'static str,
}

#[pymethods]
impl Setting {
    fn __repr__(&self) -> String {
        format!("<Setting {}: {}, {} to {} {}>", self.name, self.label, self.min, self.max, self.unit)
    }
}

/// Every numeric setting.
#[pyfunction]
pub(crate) fn settings() -> Vec<Setting> {
    listed()
        .map(|entry| Setting {
            name: entry.name,
            label: entry.facts.label,
            unit: entry.facts.unit.words(),
            min: entry.facts.min,
            max: entry.facts.max,
            each_side: entry.each_side,
            doc: entry.facts.doc,
        })
        .collect()
}
