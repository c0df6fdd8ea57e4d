//! A study's table in pieces, for machines that work together.

use std::path::Path;
use std::sync::Arc;
use std::sync::atomic::Ordering;

use pyo3::prelude::*;
use pyo3::types::PyBytes;
use study_run::{Form, Loaded, Pieces};

use crate::error::refusal;
use crate::number::Whole;
use crate::study::Study;
use crate::watch::{Takes, fault, watched};
use crate::write::of_run;

/// A group of rows as bytes: its body, what the table's end has to know of it, its rows, those with a reason.
type Piece<'py> = (Bound<'py, PyBytes>, Bound<'py, PyBytes>, u64, u64);

/// The table that :meth:`Study.write` writes, as groups of rows that any process makes and one puts together.
#[pyclass(frozen, module = "eminentia._native", name = "Pieces")]
pub(crate) struct StudyPieces {
    loaded: Arc<Loaded>,
    form: Form,
}

impl StudyPieces {
    fn pieces(&self) -> PyResult<Pieces<'_>> {
        Pieces::new(&self.loaded, self.form).map_err(of_run)
    }
}

#[pymethods]
impl StudyPieces {
    /// Of a study, in the form that the file's name says.
    #[new]
    fn new(study: &Study, name: &str) -> PyResult<Self> {
        let form = Form::of(Path::new(name)).map_err(of_run)?;
        Ok(Self { loaded: Arc::clone(&study.loaded), form })
    }

    /// Number of groups.
    #[getter]
    fn count(&self) -> PyResult<u64> {
        Ok(self.pieces()?.count())
    }

    /// What stands before the first group.
    fn head<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyBytes>> {
        Ok(PyBytes::new(py, &self.pieces()?.head()))
    }

    /// A group by its number from 0, computed on one thread without Python's lock: its bytes, what :meth:`tail` has to
    /// know of it, its rows, and how many of them have a reason.
    fn piece<'py>(&self, py: Python<'py>, number: Whole) -> PyResult<Piece<'py>> {
        let number = number.within("number", 0..=self.pieces()?.count().saturating_sub(1))?;
        let (loaded, form) = (Arc::clone(&self.loaded), self.form);
        let made = watched(py, Takes::Long, move |stop| {
            Pieces::new(&loaded, form)?.piece(number, &|| stop.load(Ordering::Relaxed))
        })?;
        let made = made.map_err(refusal)?.ok_or_else(fault)?;
        Ok((PyBytes::new(py, &made.body), PyBytes::new(py, &made.note), made.rows, made.with_reason))
    }

    /// What stands behind the last group, made of each group's place in bytes and its note.
    fn tail<'py>(&self, py: Python<'py>, groups: Vec<(u64, Vec<u8>)>) -> PyResult<Bound<'py, PyBytes>> {
        Ok(PyBytes::new(py, &self.pieces()?.tail(groups).map_err(refusal)?))
    }
}
