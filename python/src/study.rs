//! Studies: read, their rows as arrays.

use std::ops::Range;
use std::path::PathBuf;
use std::sync::Arc;

use arrow_schema::SchemaRef;
use numpy::ndarray::Array2;
use numpy::{IntoPyArray, PyArray2};
use pyo3::prelude::*;
use pyo3::types::PyCapsule;
use sim_core::study::ColumnKind;
use study_run::{Batcher, Loaded, role_name};

use crate::arrow::{Rows, Stream, schema_capsule};
use crate::error::refusal;
use crate::write::{RunArguments, Written, write};

/// One column of a study's table.
#[pyclass(frozen, module = "eminentia")]
pub(crate) struct Column {
    #[pyo3(get)]
    name: String,
    #[pyo3(get)]
    unit: Option<&'static str>,
    #[pyo3(get)]
    role: &'static str,
    #[pyo3(get)]
    kind: &'static str,
}

#[pymethods]
impl Column {
    fn __repr__(&self) -> String {
        format!("<Column {}, {} {}>", self.name, self.role, self.kind)
    }
}

/// A study ready to be computed, never changed.
#[pyclass(frozen, module = "eminentia")]
pub(crate) struct Study {
    loaded: Arc<Loaded>,
    schema: SchemaRef,
}

impl Study {
    fn new(loaded: Loaded) -> Self {
        let schema = study_run::schema(&loaded);
        Self { loaded: Arc::new(loaded), schema }
    }

    /// Rows from `start` to before `stop`, to the last without it.
    fn range(&self, start: u64, stop: Option<u64>) -> PyResult<Range<u64>> {
        let rows = self.loaded.prepared.row_count();
        let stop = stop.unwrap_or(rows);
        if start > stop || stop > rows {
            return Err(refusal(format_args!(
                "rows {start} to {stop} are asked for; the study has {rows}, counted from 0, and the first may \
                 not come after the last"
            )));
        }
        Ok(start..stop)
    }
}

#[pymethods]
impl Study {
    #[staticmethod]
    fn load(py: Python<'_>, path: PathBuf) -> PyResult<Self> {
        py.detach(|| files::load(&files::Source::File(path))).map(Self::new).map_err(refusal)
    }

    #[staticmethod]
    #[pyo3(signature = (text, *, folder = PathBuf::new()))]
    fn from_text(py: Python<'_>, text: &str, folder: PathBuf) -> PyResult<Self> {
        py.detach(|| files::study_from_text(text, "study", folder.as_path())).map(Self::new).map_err(refusal)
    }

    #[getter]
    fn title(&self) -> &str {
        &self.loaded.prepared.study().title
    }

    #[getter]
    fn sha256(&self) -> &str {
        self.loaded.sha256()
    }

    #[getter]
    fn row_count(&self) -> u64 {
        self.loaded.prepared.row_count()
    }

    /// What is allowed but hardly meant, and what reading the casts had to mend or assume.
    #[getter]
    fn notes(&self) -> Vec<String> {
        let warnings = self.loaded.prepared.warnings().iter().map(words::verdict::study::warning);
        warnings.chain(self.loaded.notes.iter().cloned()).collect()
    }

    #[getter]
    fn columns(&self) -> Vec<Column> {
        let columns = self.loaded.prepared.columns().iter();
        columns
            .map(|column| Column {
                name: column.name.clone(),
                unit: column.unit.map(sim_core::units::Unit::words),
                role: role_name(column.role),
                kind: match column.kind {
                    ColumnKind::Number => "number",
                    ColumnKind::Text => "text",
                    ColumnKind::Flag => "flag",
                },
            })
            .collect()
    }

    fn __arrow_c_schema__<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyCapsule>> {
        schema_capsule(py, &self.schema)
    }

    /// Rows as one Arrow batch.
    #[pyo3(signature = (start = 0, stop = None))]
    fn rows(&self, py: Python<'_>, start: u64, stop: Option<u64>) -> PyResult<Rows> {
        let range = self.range(start, stop)?;
        let batch =
            py.detach(|| Batcher::new(&self.loaded.prepared, &self.schema).batch(range)).map_err(refusal)?;
        Ok(Rows::new(batch))
    }

    /// Rows that are computed as they are read; a batch is some megabytes for a few dozen columns.
    #[pyo3(signature = (start = 0, stop = None, *, batch_rows = 65536))]
    fn stream(&self, start: u64, stop: Option<u64>, batch_rows: u64) -> PyResult<Stream> {
        if batch_rows == 0 {
            return Err(refusal("batch_rows is 0; give 1 or more"));
        }
        let rows = self.range(start, stop)?;
        Ok(Stream { loaded: Arc::clone(&self.loaded), schema: Arc::clone(&self.schema), rows, batch_rows })
    }

    /// The columns of numbers alone, as one array.
    #[pyo3(signature = (start = 0, stop = None))]
    fn numbers<'py>(
        &self,
        py: Python<'py>,
        start: u64,
        stop: Option<u64>,
    ) -> PyResult<Bound<'py, PyArray2<f64>>> {
        let range = self.range(start, stop)?;
        let array = py.detach(|| {
            let prepared = &self.loaded.prepared;
            let columns =
                prepared.columns().iter().filter(|column| column.kind == ColumnKind::Number).count();
            let rows = usize::try_from(range.end - range.start).map_err(refusal)?;
            let mut numbers = Vec::new();
            numbers.try_reserve_exact(rows.saturating_mul(columns)).map_err(refusal)?;
            let mut row = prepared.row_buffer();
            for number in range {
                prepared.compute(number, &mut row).map_err(refusal)?;
                // As the table has it: a column without −0.
                numbers.extend(row.numbers().iter().map(|number| number + 0.0));
            }
            Array2::from_shape_vec((rows, columns), numbers).map_err(refusal)
        })?;
        Ok(array.into_pyarray(py))
    }

    /// Runs the study into a file.
    #[pyo3(signature = (path, *, part = None, resume = false, overwrite = false, threads = 0, progress = None))]
    #[allow(clippy::too_many_arguments)] // keywords in Python
    fn write(
        &self,
        py: Python<'_>,
        path: PathBuf,
        part: Option<(u32, u32)>,
        resume: bool,
        overwrite: bool,
        threads: usize,
        progress: Option<Py<PyAny>>,
    ) -> PyResult<Written> {
        write(py, &self.loaded, RunArguments { path, part, resume, overwrite, threads }, progress.as_ref())
    }

    fn __repr__(&self) -> String {
        let prepared = &self.loaded.prepared;
        let columns = prepared.columns().len();
        format!("<Study \"{}\", {} rows by {columns} columns>", self.title(), prepared.row_count())
    }
}
