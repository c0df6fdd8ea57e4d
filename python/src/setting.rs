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
        .map(|listed| Setting {
            name: listed.name,
            label: listed.facts.label,
            unit: listed.facts.unit.words(),
            min: listed.facts.min,
            max: listed.facts.max,
            each_side: listed.each_side,
            doc: listed.facts.doc,
        })
        .collect()
}
