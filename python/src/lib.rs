//! The compiled half of the Python package `eminentia`; `package/eminentia` is the half that is written in
//! Python. What is documented here is what `help` says there; the stubs say the same, and a test holds them together.
//!
//! Arrays are handed over without a copy: NumPy takes over the memory that the rows were computed into,
//! and Arrow's are lent by the C data interface. Python's lock is released while anything is computed, and whoever
//! presses Ctrl-C has Python back (`watch`).

// What Python hands over is handed over by value.
#![allow(clippy::needless_pass_by_value)]

mod arrow;
mod case;
mod dict;
mod error;
mod excursion;
mod made;
mod number;
mod pieces;
mod scene;
mod setting;
mod statistics;
mod study;
mod sweep;
mod swept;
mod teeth;
mod watch;
mod write;

use pyo3::prelude::*;

#[pymodule(gil_used = false)]
fn _native(module: &Bound<'_, PyModule>) -> PyResult<()> {
    module.add("CAUTION", words::CAUTION)?;
    module.add("__version__", study_run::VERSION)?;
    module.add_class::<case::Case>()?;
    module.add_class::<pieces::StudyPieces>()?;
    module.add_class::<scene::Scene>()?;
    module.add_class::<study::Study>()?;
    module.add_class::<arrow::Rows>()?;
    module.add_class::<arrow::Stream>()?;
    module.add_function(wrap_pyfunction!(arrow::rows_again, module)?)?;
    module.add_function(wrap_pyfunction!(error::said, module)?)?;
    module.add_function(wrap_pyfunction!(setting::settings, module)?)?;
    module.add_function(wrap_pyfunction!(statistics::sensitivity, module)?)?;
    module.add_function(wrap_pyfunction!(statistics::sobol_indices, module)?)?;
    module.add_function(wrap_pyfunction!(sweep::sweep, module)?)
}
