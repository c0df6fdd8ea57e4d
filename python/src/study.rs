//! Studies: read, their rows as arrays.

use std::ops::Range;
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::sync::atomic::Ordering;

use arrow_schema::SchemaRef;
use files::{LoadError, TextError};
use numpy::PyArrayDyn;
use pyo3::prelude::*;
use pyo3::types::{PyCapsule, PyDict, PyMapping, PyTuple};
use sim_core::study::{BaseScene, ColumnKind};
use study_run::{Batcher, Loaded, role_name};
use words::quoted;

use crate::arrow::{Rows, Stream, schema_capsule};
use crate::dict;
use crate::error::{of_study, refusal};
use crate::made::{array, made};
use crate::number::Whole;
use crate::watch::{Takes, check_room, fault, watched};
use crate::write::{RunArguments, write};

/// A scene's settings varied by a plan, ready to be computed: any row from its number alone. Never changed, and may be
/// used by any number of threads; equal to another of the same table.
#[pyclass(frozen, module = "eminentia")]
pub(crate) struct Study {
    pub(crate) loaded: Arc<Loaded>,
    schema: SchemaRef,
    /// From which files of casts are looked for.
    folder: PathBuf,
}

impl Study {
    pub(crate) fn new(loaded: Loaded, folder: PathBuf) -> Self {
        let schema = study_run::schema(&loaded);
        let folder = cast_folder(&loaded).unwrap_or(folder);
        Self { loaded: Arc::new(loaded), schema, folder }
    }

    /// Rows from `start` to before `stop`, to the last without it.
    fn range(&self, start: Whole, stop: Option<Whole>) -> PyResult<Range<u64>> {
        let rows = self.loaded.prepared.row_count();
        let start = start.within("start", 0..=u64::MAX)?;
        let stop = stop.map_or(Ok(rows), |stop| stop.within("stop", 0..=u64::MAX))?;
        if start > stop || stop > rows {
            return Err(refusal(format_args!(
                "rows {start} to {stop} are asked for; the study has {rows}, counted from 0, and the first may \
                 not come after the last"
            )));
        }
        Ok(start..stop)
    }

    fn has_casts(&self) -> bool {
        match &self.loaded.prepared.study().scene {
            BaseScene::Here(scene) => scene.casts.is_some() || scene.invented_casts.is_some(),
            BaseScene::File(_) => false,
        }
    }

    pub(crate) const fn loaded(&self) -> &Arc<Loaded> {
        &self.loaded
    }

    fn takes(&self, rows: &Range<u64>) -> Takes {
        Takes::rows(rows.end - rows.start, self.has_casts())
    }

    /// Names of the columns of numbers.
    fn names_of_numbers(&self) -> Vec<&str> {
        let columns = self.loaded.prepared.columns().iter();
        columns
            .filter(|column| column.kind == ColumnKind::Number)
            .map(|column| column.name.as_str())
            .collect()
    }

    /// The places of some columns among those of numbers.
    fn places(&self, names: &[String]) -> PyResult<Vec<usize>> {
        let known = self.names_of_numbers();
        let place = |name: &String| {
            known.iter().position(|own| own == name).ok_or_else(|| {
                refusal(format_args!(
                    "no column of numbers is called \"{name}\"; Study.number_columns lists them"
                ))
            })
        };
        names.iter().map(place).collect()
    }
}

/// From which folder the base scene's casts were read, where they are files.
fn cast_folder(loaded: &Loaded) -> Option<PathBuf> {
    let BaseScene::Here(scene) = &loaded.prepared.study().scene else { return None };
    let upper = Path::new(&scene.casts.as_ref()?.upper);
    let read = loaded.files.iter().find(|file| file.ends_with(upper))?;
    read.ancestors().nth(upper.components().count()).map(Path::to_owned)
}

/// Refuses so many rows as no memory holds.
fn check_rows(rows: &Range<u64>, columns: usize) -> PyResult<()> {
    let numbers = usize::try_from(rows.end - rows.start).ok().and_then(|rows| rows.checked_mul(columns));
    check_room(numbers, "ask for fewer rows at a time, or let write() put them into a file")
}

#[pymethods]
impl Study {
    /// Reads a study file (RON), its base scene and columns by their paths from its folder.
    ///
    /// Raises :class:`FileNotFoundError` for a file that is not there, and :class:`Error` with file, line, column and
    /// field.
    #[staticmethod]
    fn load(py: Python<'_>, path: PathBuf) -> PyResult<Self> {
        let folder = path.parent().unwrap_or(Path::new("")).to_owned();
        let loaded = py.detach(|| files::load(&files::Source::File(path))).map_err(of_study)?;
        Ok(Self::new(loaded, folder))
    }

    /// As :meth:`load`, of a text; files are looked for from ``folder``.
    #[staticmethod]
    #[pyo3(signature = (text, *, folder = PathBuf::new()))]
    fn from_text(py: Python<'_>, text: &str, folder: PathBuf) -> PyResult<Self> {
        let loaded =
            py.detach(|| files::study_from_text(text, "study", folder.as_path())).map_err(of_study)?;
        Ok(Self::new(loaded, folder))
    }

    /// As :meth:`load`, of a mapping with the fields of a study file: ``title``, ``scene`` (a :class:`Scene`, a mapping or
    /// the path of a file), ``factors``, ``plan``, ``record`` and, where there are any, ``constraints``. Variants are words
    /// or mappings of one word, as in ``{"Normal": {"mean": 30, "sd": 4}}``. ``factors`` may be a mapping of the settings'
    /// names to values, and values an array or a list. Files are looked for from ``folder``.
    ///
    /// Raises :class:`Error` with the field, :class:`FileNotFoundError` for a file that is not there, and
    /// :class:`TypeError` for what is no mapping.
    #[staticmethod]
    #[pyo3(signature = (fields, *, folder = None))]
    fn from_dict(py: Python<'_>, fields: &Bound<'_, PyAny>, folder: Option<PathBuf>) -> PyResult<Self> {
        let study: sim_core::study::Study = if fields.cast::<PyMapping>().is_ok() {
            let fields = py.import("eminentia._dicts")?.getattr("study")?.call1((fields,))?;
            dict::read(&fields, "study")?
        } else {
            dict::read(fields, "study")?
        };
        let folder = folder.unwrap_or_default();
        let text = study.to_ron();
        let loaded = py.detach(|| files::study_from_text(&text, "study", folder.as_path()));
        let loaded = loaded.map_err(|error| match error {
            // A place in a text that nobody wrote says nothing.
            LoadError::Study(TextError::Unread { error, .. }) => {
                refusal(format_args!("study: {}", error.what))
            }
            error => of_study(error),
        })?;
        Ok(Self::new(loaded, folder))
    }

    /// The study in full as a dictionary that :meth:`from_dict` reads back, with its base scene in it.
    fn to_dict<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        dict::written(py, self.loaded.prepared.study())
    }

    /// The study in full as the text of a file (RON), with its base scene in it, its columns as lists and its
    /// published ranges as distributions.
    fn to_text(&self) -> String {
        self.loaded.prepared.study().to_ron()
    }

    /// What the study is called.
    #[getter]
    fn title(&self) -> &str {
        &self.loaded.prepared.study().title
    }

    /// Hash of all that the table depends on: the same hash, the same rows.
    #[getter]
    fn sha256(&self) -> &str {
        self.loaded.sha256()
    }

    /// Number of rows.
    #[getter]
    fn row_count(&self) -> u64 {
        self.loaded.prepared.row_count()
    }

    /// What is allowed but hardly meant, and what reading casts had to mend or assume.
    #[getter]
    fn notes(&self) -> Vec<String> {
        let warnings = self.loaded.prepared.warnings().iter().map(words::verdict::study::warning);
        warnings.chain(self.loaded.notes.iter().cloned()).collect()
    }

    /// Factors, settings that follow from them, measures, the reason; ``row`` is not among them.
    #[getter]
    fn columns<'py>(&self, py: Python<'py>) -> PyResult<Vec<Bound<'py, PyAny>>> {
        let column = |column: &sim_core::study::Column| {
            let fields = PyDict::new(py);
            fields.set_item("name", &column.name)?;
            fields.set_item("unit", column.unit.map(sim_core::units::Unit::words))?;
            fields.set_item("role", role_name(column.role))?;
            let kind = match column.kind {
                ColumnKind::Number => "number",
                ColumnKind::Text => "text",
                ColumnKind::Flag => "flag",
            };
            fields.set_item("kind", kind)?;
            made(py, "Column", &fields)
        };
        self.loaded.prepared.columns().iter().map(column).collect()
    }

    /// Names of the columns of kind ``number``, in the order of the columns of :meth:`numbers`.
    #[getter]
    fn number_columns(&self) -> Vec<&str> {
        self.names_of_numbers()
    }

    fn __arrow_c_schema__<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyCapsule>> {
        schema_capsule(py, &self.schema)
    }

    /// Computes rows ``start`` to before ``stop`` (to the last without it) into one batch. Python's lock is released
    /// meanwhile, and Ctrl-C ends it at once.
    ///
    /// Raises :class:`Error` for rows that the study does not have, and :class:`MemoryError` for more than memory
    /// holds.
    #[pyo3(signature = (start = Whole::new(0), stop = None), text_signature = "($self, start=0, stop=None)")]
    fn rows(&self, py: Python<'_>, start: Whole, stop: Option<Whole>) -> PyResult<Rows> {
        let range = self.range(start, stop)?;
        check_rows(&range, self.loaded.prepared.columns().len() + 1)?;
        let (loaded, schema, takes) =
            (Arc::clone(&self.loaded), Arc::clone(&self.schema), self.takes(&range));
        let batch =
            watched(py, takes, move |stop| Batcher::new(&loaded.prepared, &schema).batch_until(range, stop))?;
        Ok(Rows::new(batch.map_err(refusal)?.ok_or_else(fault)?))
    }

    /// As :meth:`rows`, in batches of ``batch_rows`` that are computed as they are read.
    ///
    /// Raises :class:`Error` for rows that the study does not have and for batches of no rows.
    #[pyo3(
        signature = (start = Whole::new(0), stop = None, *, batch_rows = Whole::new(65536)),
        text_signature = "($self, start=0, stop=None, *, batch_rows=65536)"
    )]
    fn stream(
        slf: Bound<'_, Self>,
        start: Whole,
        stop: Option<Whole>,
        batch_rows: Whole,
    ) -> PyResult<Stream> {
        let batch_rows = batch_rows.within("batch_rows", 1..=u64::MAX)?;
        let own = slf.get();
        let (loaded, schema, rows) =
            (Arc::clone(&own.loaded), Arc::clone(&own.schema), own.range(start, stop)?);
        Ok(Stream { study: slf.into_any().unbind(), loaded, schema, rows, batch_rows })
    }

    /// (rows, columns of kind ``number``): those columns alone, named by :attr:`number_columns`, or those that
    /// ``columns`` names, in its order; each in the unit of its column, not a number where nothing could be measured.
    /// NumPy takes over the memory that they were computed into.
    ///
    /// Raises :class:`Error` for rows and columns that the study does not have, and :class:`MemoryError` for more than
    /// memory holds.
    #[pyo3(
        signature = (start = Whole::new(0), stop = None, *, columns = None),
        text_signature = "($self, start=0, stop=None, *, columns=None)"
    )]
    fn numbers<'py>(
        &self,
        py: Python<'py>,
        start: Whole,
        stop: Option<Whole>,
        columns: Option<Vec<String>>,
    ) -> PyResult<Bound<'py, PyArrayDyn<f64>>> {
        let range = self.range(start, stop)?;
        let all = self.names_of_numbers().len();
        let places = columns.map(|names| self.places(&names)).transpose()?;
        let width = places.as_ref().map_or(all, Vec::len);
        check_rows(&range, width)?;
        let rows = usize::try_from(range.end - range.start).map_err(refusal)?;
        let (loaded, takes) = (Arc::clone(&self.loaded), self.takes(&range));
        let numbers = watched(py, takes, move |stop| {
            let mut numbers = Vec::with_capacity(rows * width);
            let mut row = loaded.prepared.row_buffer();
            for number in range {
                if stop.load(Ordering::Relaxed) {
                    return Ok(None);
                }
                loaded.prepared.compute(number, &mut row)?;
                // As the table has it: a column without −0.
                match &places {
                    None => numbers.extend(row.numbers().iter().map(|number| number + 0.0)),
                    Some(places) => numbers.extend(places.iter().map(|place| row.numbers()[*place] + 0.0)),
                }
            }
            Ok::<_, sim_core::study::NoSuchRow>(Some(numbers))
        })?;
        array(py, numbers.map_err(refusal)?.ok_or_else(fault)?, &[rows, width])
    }

    /// Runs the study into a ``.parquet`` or ``.csv`` file by all cores (or ``threads``), in flat memory.
    ///
    /// ``part=(3, 8)`` computes the third of eight parts, into a file with the part in its name. ``resume`` goes on
    /// with a run that was stopped, and ends with the bytes of one that was not. ``progress`` is called some times a
    /// second with the rows that will last and the rows in all. ``ignore_free_space`` runs it though it seems not to fit
    /// on its disk.
    ///
    /// Raises :class:`Error` for what cannot be written or gone on with. Ctrl-C, and whatever ``progress`` raises, end
    /// the run with what was written safe: rows under way are dropped, and ``resume`` computes them again.
    #[pyo3(
        signature = (path, *, part = None, resume = false, overwrite = false, threads = Whole::new(0), progress = None, ignore_free_space = false),
        text_signature = "($self, path, *, part=None, resume=False, overwrite=False, threads=0, progress=None, ignore_free_space=False)"
    )]
    #[allow(clippy::too_many_arguments)] // keywords in Python
    fn write<'py>(
        &self,
        py: Python<'py>,
        path: PathBuf,
        part: Option<(Whole, Whole)>,
        resume: bool,
        overwrite: bool,
        threads: Whole,
        progress: Option<Py<PyAny>>,
        ignore_free_space: bool,
    ) -> PyResult<Bound<'py, PyAny>> {
        let arguments = RunArguments { path, part, resume, overwrite, threads, ignore_free_space };
        write(py, &self.loaded, arguments, progress.as_ref())
    }

    fn __eq__(&self, other: &Self) -> bool {
        self.sha256() == other.sha256()
    }

    fn __hash__(&self, py: Python<'_>) -> PyResult<isize> {
        pyo3::types::PyString::new(py, self.sha256()).hash()
    }

    fn __copy__(slf: Bound<'_, Self>) -> Bound<'_, Self> {
        slf
    }

    fn __deepcopy__<'py>(slf: Bound<'py, Self>, memo: &Bound<'py, PyAny>) -> Bound<'py, Self> {
        // Nothing in it changes.
        let _ = memo;
        slf
    }

    fn __reduce__<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyTuple>> {
        let again = py.import("eminentia._again")?.getattr("study")?;
        let folder = std::path::absolute(&self.folder).unwrap_or_else(|_| self.folder.clone());
        (again, (self.to_text(), folder, self.sha256())).into_pyobject(py)
    }

    fn __repr__(&self) -> String {
        let prepared = &self.loaded.prepared;
        let columns = prepared.columns().len();
        format!(
            "<Study \"{}\", {} rows by {columns} columns>",
            quoted::value(self.title()),
            prepared.row_count()
        )
    }
}
