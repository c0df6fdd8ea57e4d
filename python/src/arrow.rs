//! Rows of a study lent to Arrow by its C data interface.

use std::ops::Range;
use std::sync::Arc;

use arrow_array::ffi::FFI_ArrowArray;
use arrow_array::ffi_stream::FFI_ArrowArrayStream;
use arrow_array::{Array, RecordBatch, RecordBatchReader, StructArray};
use arrow_ipc::reader::StreamReader;
use arrow_ipc::writer::StreamWriter;
use arrow_schema::ffi::FFI_ArrowSchema;
use arrow_schema::{ArrowError, Schema, SchemaRef};
use pyo3::prelude::*;
use pyo3::types::{PyBytes, PyCapsule, PyTuple};
use study_run::{Batcher, Loaded};

use crate::error::refusal;

// Names by which Arrow's C data interface knows its capsules:
// https://arrow.apache.org/docs/format/CDataInterface/PyCapsuleInterface.html
const SCHEMA: &std::ffi::CStr = c"arrow_schema";
const ARRAY: &std::ffi::CStr = c"arrow_array";
const STREAM: &std::ffi::CStr = c"arrow_array_stream";

/// A schema as a capsule.
pub(crate) fn schema_capsule<'py>(py: Python<'py>, schema: &Schema) -> PyResult<Bound<'py, PyCapsule>> {
    let schema = FFI_ArrowSchema::try_from(schema).map_err(refusal)?;
    PyCapsule::new_with_value(py, schema, SCHEMA)
}

/// Some rows of a study, computed. ``pyarrow.record_batch(rows)``, ``pyarrow.table(rows)`` and every other reader of
/// Arrow's PyCapsule interface take them without a copy. First column ``row``, the row's number from 0; then the study's
/// columns, null where nothing could be measured, with ``unit`` and ``role`` in their metadata.
#[pyclass(frozen, module = "eminentia")]
pub(crate) struct Rows {
    batch: RecordBatch,
}

impl Rows {
    pub(crate) const fn new(batch: RecordBatch) -> Self {
        Self { batch }
    }

    /// As a file in memory, by which rows travel to another process.
    fn written(&self) -> Result<Vec<u8>, ArrowError> {
        let mut bytes = Vec::new();
        let mut writer = StreamWriter::try_new(&mut bytes, &self.batch.schema())?;
        writer.write(&self.batch)?;
        writer.finish()?;
        drop(writer);
        Ok(bytes)
    }
}

/// The rows that :class:`Rows` wrote when it was pickled.
#[pyfunction]
pub(crate) fn rows_again(written: &[u8]) -> PyResult<Rows> {
    let mut reader = StreamReader::try_new(written, None).map_err(refusal)?;
    let batch = reader.next().ok_or_else(|| refusal("these are no pickled rows"))?;
    Ok(Rows::new(batch.map_err(refusal)?))
}

#[pymethods]
impl Rows {
    fn __arrow_c_schema__<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyCapsule>> {
        schema_capsule(py, &self.batch.schema())
    }

    /// The rows' own memory; the schema that is asked for may be passed over, says the interface.
    #[pyo3(signature = (requested_schema = None))]
    fn __arrow_c_array__<'py>(
        &self,
        py: Python<'py>,
        requested_schema: Option<Bound<'py, PyAny>>,
    ) -> PyResult<Bound<'py, PyTuple>> {
        drop(requested_schema);
        let array = StructArray::from(self.batch.clone());
        let array = PyCapsule::new_with_value(py, FFI_ArrowArray::new(&array.to_data()), ARRAY)?;
        (self.__arrow_c_schema__(py)?, array).into_pyobject(py)
    }

    /// The same rows as a stream of one batch, for readers that know streams only.
    #[pyo3(signature = (requested_schema = None))]
    fn __arrow_c_stream__<'py>(
        &self,
        py: Python<'py>,
        requested_schema: Option<Bound<'py, PyAny>>,
    ) -> PyResult<Bound<'py, PyCapsule>> {
        drop(requested_schema);
        let reader = arrow_array::RecordBatchIterator::new([Ok(self.batch.clone())], self.batch.schema());
        stream_capsule(py, Box::new(reader))
    }

    fn __len__(&self) -> usize {
        self.batch.num_rows()
    }

    fn __eq__(&self, other: &Self) -> bool {
        self.batch == other.batch
    }

    fn __copy__(slf: Bound<'_, Self>) -> Bound<'_, Self> {
        slf
    }

    fn __reduce__<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyTuple>> {
        let again = py.import("eminentia._native")?.getattr("rows_again")?;
        let bytes = PyBytes::new(py, &self.written().map_err(refusal)?);
        (again, (bytes,)).into_pyobject(py)
    }

    fn __repr__(&self) -> String {
        format!("<Rows, {} by {} columns>", self.batch.num_rows(), self.batch.num_columns())
    }
}

/// Rows of a study that are computed as they are read, batch by batch, in flat memory:
/// ``pyarrow.RecordBatchReader.from_stream(stream)``.
#[pyclass(frozen, module = "eminentia")]
pub(crate) struct Stream {
    /// The study that it is of, to be pickled with it.
    pub(crate) study: Py<PyAny>,
    pub(crate) loaded: Arc<Loaded>,
    pub(crate) schema: SchemaRef,
    pub(crate) rows: std::ops::Range<u64>,
    pub(crate) batch_rows: u64,
}

#[pymethods]
impl Stream {
    fn __arrow_c_schema__<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyCapsule>> {
        schema_capsule(py, &self.schema)
    }

    /// From the first of the rows, each time it is asked for.
    #[pyo3(signature = (requested_schema = None))]
    fn __arrow_c_stream__<'py>(
        &self,
        py: Python<'py>,
        requested_schema: Option<Bound<'py, PyAny>>,
    ) -> PyResult<Bound<'py, PyCapsule>> {
        drop(requested_schema);
        let reader = Reader {
            loaded: Arc::clone(&self.loaded),
            schema: Arc::clone(&self.schema),
            rows: self.rows.clone(),
            batch_rows: self.batch_rows,
        };
        stream_capsule(py, Box::new(reader))
    }

    fn __reduce__<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyTuple>> {
        let again = py.import("eminentia._again")?.getattr("stream")?;
        let Range { start, end } = self.rows;
        (again, (&self.study, start, end, self.batch_rows)).into_pyobject(py)
    }

    fn __repr__(&self) -> String {
        format!("<Stream, rows {} to {}>", self.rows.start, self.rows.end)
    }
}

fn stream_capsule<'py>(
    py: Python<'py>,
    reader: Box<dyn RecordBatchReader + Send>,
) -> PyResult<Bound<'py, PyCapsule>> {
    PyCapsule::new_with_value(py, FFI_ArrowArrayStream::new(reader), STREAM)
}

struct Reader {
    loaded: Arc<Loaded>,
    schema: SchemaRef,
    rows: std::ops::Range<u64>,
    batch_rows: u64,
}

impl Iterator for Reader {
    type Item = Result<RecordBatch, ArrowError>;

    fn next(&mut self) -> Option<Self::Item> {
        if self.rows.is_empty() {
            return None;
        }
        let to = self.rows.start.saturating_add(self.batch_rows).min(self.rows.end);
        let batch = Batcher::new(&self.loaded.prepared, &self.schema).batch(self.rows.start..to);
        self.rows.start = to;
        Some(batch.map_err(|error| ArrowError::ExternalError(Box::new(error))))
    }
}

impl RecordBatchReader for Reader {
    fn schema(&self) -> SchemaRef {
        Arc::clone(&self.schema)
    }
}
