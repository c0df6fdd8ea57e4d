//! The compiled half of the Python package `eminentia`; `package/eminentia` is the half that is written in
//! Python, and says in its stubs what each function takes and gives.
//!
//! Arrays are handed over without a copy: NumPy takes over the memory that the rows were computed into,
//! and Arrow's are lent by the C data interface. Python's lock is released while anything is computed.

// What Python hands over is handed over by value.
#![allow(clippy::needless_pass_by_value)]

mod arrow;
mod error;
mod excursion;
mod scene;
mod setting;
mod statistics;
mod study;
mod write;

use pyo3::prelude::*;

#[pymodule(gil_used = false)]
fn _native(module: &Bound<'_, PyModule>) -> PyResult<()> {
    module.add("CAUTION", words::CAUTION)?;
    module.add("__version__", study_run::VERSION)?;
    module.add("Error", module.py().get_type::<error::Error>())?;
    module.add_class::<scene::Scene>()?;
    module.add_class::<excursion::Excursion>()?;
    module.add_class::<setting::Setting>()?;
    module.add_class::<study::Study>()?;
    module.add_class::<study::Column>()?;
    module.add_class::<arrow::Rows>()?;
    module.add_class::<arrow::Stream>()?;
    module.add_class::<write::Written>()?;
    module.add_class::<statistics::SobolIndices>()?;
    module.add_function(wrap_pyfunction!(setting::settings, module)?)?;
    module.add_function(wrap_pyfunction!(statistics::sobol_indices, module)?)
}
