//! The table as Arrow has it: its schema, and rows in batches.

use std::collections::HashMap;
use std::ops::Range;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};

use arrow_array::builder::{BooleanBuilder, StringBuilder};
use arrow_array::{ArrayRef, Float64Array, RecordBatch, UInt64Array};
use arrow_buffer::{BooleanBuffer, NullBuffer, ScalarBuffer};
use arrow_schema::{ArrowError, DataType, Field, Schema, SchemaRef};
use sim_core::study::{Column, ColumnKind, ColumnPlace, ColumnRole, NoSuchRow, Prepared, Reach, RowLanes};

use files::Loaded;

use crate::origin::seed;
use built::{BUILD, COMMIT, VERSION};

/// Name of the first column: a row's number in the study, from 0.
pub const ROW: &str = "row";

/// Names of what a table's schema says about it.
pub mod key {
    /// The study's title.
    pub const TITLE: &str = "title";
    /// Hash of all that the table depends on; see [`files::Loaded::sha256`].
    pub const STUDY_SHA256: &str = "study_sha256";
    /// [`crate::VERSION`].
    pub const VERSION: &str = "version";
    /// [`built::COMMIT`]; absent in a table of a development build.
    pub const COMMIT: &str = "commit";
    /// [`built::BUILD`].
    pub const BUILD: &str = "build";
    /// Seed of the plan; absent where it has none.
    pub const SEED: &str = "seed";
    /// Every file that was read, with its SHA-256, as JSON; absent of a study that was made in memory.
    pub const INPUTS: &str = "inputs";
    /// Number of rows of the whole study, whatever part of it the table holds.
    pub const ROWS: &str = "rows";
    /// The study in full as RON, with its base scene.
    pub const STUDY: &str = "study";
    /// What to keep in mind: [`words::CAUTION`].
    pub const CAUTION: &str = "caution";
    /// Which part of the study the table holds, as `3/8`; absent where it holds all.
    pub const PART: &str = "part";
    /// Of a column: unit of its numbers, `degrees` or `mm`; absent where they have none.
    pub const UNIT: &str = "unit";
    /// Of a column: `factor`, `derived`, `measured`, `note` or `reason`.
    pub const ROLE: &str = "role";
    /// Of a column in which something is looked for along an excursion: up to where, as `6 mm`. Nothing in such a
    /// column means that it was not found so far.
    pub const SEARCHED_TO: &str = "searched_to";
}

/// Why rows could not be had.
#[derive(Debug, thiserror::Error)]
pub enum BatchError {
    /// A row past the last.
    #[error(transparent)]
    NoSuchRow(#[from] NoSuchRow),
    /// A batch that is not as its schema says.
    #[error("the table does not fit its schema: {0}; this is a fault of the program")]
    Schema(#[from] ArrowError),
}

/// The schema of a study's table.
///
/// The first column is [`ROW`] (`UInt64`, never null). Then each of [`Prepared::columns`]: numbers as
/// `Float64`, words as `Utf8`, yes or no as `Boolean`, all of them null where nothing could be measured.
/// What the schema and its fields say besides is named in [`key`].
#[must_use]
pub fn schema(loaded: &Loaded) -> SchemaRef {
    let prepared = &loaded.prepared;
    let first = Field::new(ROW, DataType::UInt64, false);
    let fields: Vec<Field> = std::iter::once(first).chain(prepared.columns().iter().map(field)).collect();
    let about = [
        (key::TITLE, prepared.study().title.clone()),
        (key::STUDY_SHA256, loaded.sha256().to_owned()),
        (key::VERSION, VERSION.to_owned()),
        (key::ROWS, prepared.row_count().to_string()),
        (key::STUDY, prepared.study().to_ron()),
        (key::CAUTION, words::CAUTION.to_owned()),
    ];
    let inputs = serde_json::to_string(&loaded.inputs).ok().filter(|_| !loaded.inputs.is_empty());
    let where_known = [
        (key::COMMIT, COMMIT.map(str::to_owned)),
        (key::BUILD, Some(BUILD.to_owned())),
        (key::SEED, seed(&prepared.study().plan).map(|seed| seed.to_string())),
        (key::INPUTS, inputs),
    ];
    let known = where_known.into_iter().filter_map(|(key, value)| Some((key, value?)));
    let about: HashMap<String, String> =
        about.into_iter().chain(known).map(|(key, value)| (key.to_owned(), value)).collect();
    Arc::new(Schema::new_with_metadata(fields, about))
}

fn field(column: &Column) -> Field {
    let kind = match column.kind {
        ColumnKind::Number => DataType::Float64,
        ColumnKind::Text => DataType::Utf8,
        ColumnKind::Flag => DataType::Boolean,
    };
    let mut about = HashMap::from([(key::ROLE.to_owned(), role_name(column.role).to_owned())]);
    if let Some(unit) = column.unit {
        about.insert(key::UNIT.to_owned(), unit.words().to_owned());
    }
    if let Some(ColumnPlace { reach: Reach::UpTo(end), .. }) = column.place {
        about.insert(key::SEARCHED_TO.to_owned(), words::name::end(end));
    }
    Field::new(&column.name, kind, true).with_metadata(about)
}

/// The word that a table has for a role.
#[must_use]
pub const fn role_name(role: ColumnRole) -> &'static str {
    match role {
        ColumnRole::Factor => "factor",
        ColumnRole::Derived => "derived",
        ColumnRole::Measured => "measured",
        ColumnRole::Note => "note",
        ColumnRole::Reason => "reason",
    }
}

/// Computes rows into batches, one after the other, on one thread.
#[derive(Debug)]
pub struct Batcher<'s> {
    prepared: &'s Prepared,
    schema: SchemaRef,
    rows: RowLanes,
    /// How many rows are computed together.
    together: usize,
    texts: Vec<StringBuilder>,
    flags: Vec<BooleanBuilder>,
}

impl<'s> Batcher<'s> {
    /// For a study with its own [`schema`].
    #[must_use]
    pub fn new(prepared: &'s Prepared, schema: &SchemaRef) -> Self {
        let count = |kind| prepared.columns().iter().filter(|column| column.kind == kind).count();
        Self {
            prepared,
            schema: Arc::clone(schema),
            rows: prepared.row_lanes(),
            together: prepared.rows_together(),
            texts: std::iter::repeat_with(StringBuilder::new).take(count(ColumnKind::Text)).collect(),
            flags: std::iter::repeat_with(BooleanBuilder::new).take(count(ColumnKind::Flag)).collect(),
        }
    }

    /// Computes some of the study's rows, whose numbers count from 0. They are the same whatever was
    /// computed before.
    ///
    /// # Errors
    /// [`BatchError::NoSuchRow`] past the last row.
    pub fn batch(&mut self, rows: Range<u64>) -> Result<RecordBatch, BatchError> {
        let batch = self.batch_until(rows, &AtomicBool::new(false))?;
        batch.ok_or_else(|| ArrowError::ComputeError("rows were left out".to_owned()).into())
    }

    /// As [`Self::batch`]; nothing once `stop` is true, which is looked at every few rows, and before each where casts guide.
    ///
    /// # Errors
    /// As [`Self::batch`].
    pub fn batch_until(
        &mut self,
        rows: Range<u64>,
        stop: &AtomicBool,
    ) -> Result<Option<RecordBatch>, BatchError> {
        let length = usize::try_from(rows.end.saturating_sub(rows.start)).unwrap_or(usize::MAX);
        let known = self.prepared.row_count();
        if rows.end > known {
            return Err(NoSuchRow { row: rows.end - 1, rows: known }.into());
        }
        let numbers = self.row_numbers_width();
        let mut columns: Vec<Vec<f64>> =
            std::iter::repeat_with(|| Vec::with_capacity(length)).take(numbers).collect();
        let mut first = rows.start;
        while first < rows.end {
            if stop.load(Ordering::Relaxed) {
                self.texts.iter_mut().for_each(|builder| drop(builder.finish()));
                self.flags.iter_mut().for_each(|builder| drop(builder.finish()));
                return Ok(None);
            }
            let together = usize::try_from(rows.end - first).unwrap_or(usize::MAX).min(self.together);
            self.prepared.compute_lanes(first, together, &mut self.rows)?;
            for (column, lane) in columns.iter_mut().zip(self.rows.numbers()) {
                // Turns −0, which rounding leaves of exact rest, into 0.
                column.extend(lane[..together].iter().map(|value| value + 0.0));
            }
            for row in 0..together {
                for (slot, text) in self.texts.iter_mut().enumerate() {
                    text.append_option(self.rows.text(slot, row));
                }
                for (slot, flag) in self.flags.iter_mut().enumerate() {
                    flag.append_option(self.rows.flag(slot, row));
                }
            }
            first += together as u64;
        }
        let mut arrays: Vec<ArrayRef> = Vec::with_capacity(self.prepared.columns().len() + 1);
        arrays.push(Arc::new(UInt64Array::from_iter_values(rows)));
        let mut numbers = columns.into_iter();
        let mut texts = self.texts.iter_mut();
        let mut flags = self.flags.iter_mut();
        for column in self.prepared.columns() {
            let array: Option<ArrayRef> = match column.kind {
                ColumnKind::Number => numbers.next().map(|column| Arc::new(measured(column)) as ArrayRef),
                ColumnKind::Text => texts.next().map(|builder| Arc::new(builder.finish()) as ArrayRef),
                ColumnKind::Flag => flags.next().map(|builder| Arc::new(builder.finish()) as ArrayRef),
            };
            arrays.extend(array);
        }
        Ok(Some(RecordBatch::try_new(Arc::clone(&self.schema), arrays)?))
    }

    fn row_numbers_width(&self) -> usize {
        self.prepared.columns().iter().filter(|column| column.kind == ColumnKind::Number).count()
    }
}

/// Numbers as a column, null where there is none.
fn measured(numbers: Vec<f64>) -> Float64Array {
    let nulls = numbers
        .iter()
        .any(|number| number.is_nan())
        .then(|| NullBuffer::new(BooleanBuffer::collect_bool(numbers.len(), |at| !numbers[at].is_nan())));
    Float64Array::new(ScalarBuffer::from(numbers), nulls)
}

/// Computes some of a study's rows; [`Batcher`] does it again and again.
///
/// # Errors
/// [`BatchError::NoSuchRow`] past the last row.
pub fn batch(loaded: &Loaded, rows: Range<u64>) -> Result<RecordBatch, BatchError> {
    Batcher::new(&loaded.prepared, &schema(loaded)).batch(rows)
}
