//! Apache Parquet. A group of rows is encoded as a file of its own in memory, whose pages are copied
//! into the table's file and whose footer is its note; the table's footer is made of all notes.

use std::sync::Arc;

use arrow_array::RecordBatch;
use arrow_schema::SchemaRef;
use parquet::arrow::arrow_writer::{ArrowColumnWriter, ArrowRowGroupWriterFactory, compute_leaves};
use parquet::arrow::{ArrowSchemaConverter, add_encoded_arrow_schema_to_metadata};
use parquet::basic::{Compression, Encoding};
use parquet::errors::ParquetError;
use parquet::file::metadata::{
    ColumnChunkMetaData, FileMetaData, KeyValue, ParquetMetaData, ParquetMetaDataReader,
    ParquetMetaDataWriter, RowGroupMetaData,
};
use parquet::file::properties::{EnabledStatistics, WriterProperties, WriterPropertiesBuilder};
use parquet::file::writer::SerializedFileWriter;
use parquet::schema::types::{ColumnPath, SchemaDescPtr, TypePtr};

use sim_core::study::{ColumnKind, ColumnRole, PlannedFactor, Prepared};

use super::bytes::Bytes;
use super::orders::say_type_order;
use crate::error::RunError;
use crate::table::ROW;

/// What a Parquet file begins and ends with.
pub(super) const MAGIC: &[u8] = b"PAR1";
/// Length of the footer, and the magic: what follows the footer.
const AFTER_FOOTER: usize = 8;
/// Levels of a factor up to which a dictionary is worth its while: an index is then two bytes at most.
const MOST_LEVELS: usize = 1 << 12;

pub(crate) struct Encoder {
    schema: SchemaRef,
    root: TypePtr,
    properties: Arc<WriterProperties>,
    /// The footer of the table, without its groups.
    about: FileMetaData,
}

impl Encoder {
    pub(super) fn new(schema: &SchemaRef, study: &Prepared) -> Result<Self, RunError> {
        let columns = ArrowSchemaConverter::new().convert(schema).map_err(fault)?;
        let root = columns.root_schema_ptr();
        let mut whole = properties(schema, study).set_key_value_metadata(Some(key_values(schema))).build();
        add_encoded_arrow_schema_to_metadata(schema, &mut whole);
        let empty = SerializedFileWriter::new(Vec::new(), TypePtr::clone(&root), Arc::new(whole));
        let about = empty.and_then(SerializedFileWriter::close).map_err(fault)?.file_metadata().clone();
        let properties = Arc::new(properties(schema, study).build());
        Ok(Self { schema: SchemaRef::clone(schema), root, properties, about })
    }

    pub(super) fn group(&self, bytes: usize) -> Result<Group<'_>, RunError> {
        let (root, properties) = (TypePtr::clone(&self.root), Arc::clone(&self.properties));
        let file = SerializedFileWriter::new(Vec::with_capacity(bytes), root, properties).map_err(fault)?;
        let factory = ArrowRowGroupWriterFactory::new(&file, SchemaRef::clone(&self.schema));
        let columns = factory.create_column_writers(0).map_err(fault)?;
        Ok(Group { encoder: self, file, columns })
    }

    pub(super) fn tail(
        &self,
        groups: impl Iterator<Item = Result<(u64, Vec<u8>), RunError>>,
    ) -> Result<Vec<u8>, RunError> {
        let columns = self.about.schema_descr_ptr();
        let mut rows = 0;
        let mut placed = Vec::new();
        for (number, group) in groups.enumerate() {
            let (start, note) = group?;
            let metadata = ParquetMetaDataReader::decode_metadata(&note).map_err(fault)?;
            rows += metadata.file_metadata().num_rows();
            let group = metadata
                .row_groups()
                .first()
                .ok_or_else(|| RunError::Fault("a group without rows".into()))?;
            placed.push(moved(group, &columns, start, number).map_err(fault)?);
        }
        let about = FileMetaData::new(
            self.about.version(),
            rows,
            self.about.created_by().map(str::to_owned),
            self.about.key_value_metadata().cloned(),
            columns,
            self.about.column_orders().cloned(),
        );
        let mut tail = Vec::new();
        let footer = ParquetMetaData::new(about, placed);
        ParquetMetaDataWriter::new(&mut tail, &footer).finish().map_err(fault)?;
        let end = tail.len().saturating_sub(AFTER_FOOTER);
        let columns = self.schema.fields().len();
        say_type_order(&mut tail[..end], columns).map_err(RunError::Fault)?;
        Ok(tail)
    }
}

/// A group that was encoded as a file of its own, as part of a file in which it begins at `start`.
fn moved(
    group: &RowGroupMetaData,
    columns: &SchemaDescPtr,
    start: u64,
    number: usize,
) -> Result<RowGroupMetaData, ParquetError> {
    let out_of_range = |_| ParquetError::General("a file larger than Parquet's 8 EiB".to_owned());
    let shift = i64::try_from(start).map_err(out_of_range)? - MAGIC.len() as i64;
    let mut builder = RowGroupMetaData::builder(SchemaDescPtr::clone(columns))
        .set_num_rows(group.num_rows())
        .set_total_byte_size(group.total_byte_size())
        .set_file_offset(group.file_offset().unwrap_or(MAGIC.len() as i64) + shift);
    // Readers that need the number have no more groups than it counts.
    if let Ok(number) = i16::try_from(number) {
        builder = builder.set_ordinal(i32::from(number));
    }
    for (chunk, column) in group.columns().iter().zip(columns.columns()) {
        let mut moved_chunk = ColumnChunkMetaData::builder(Arc::clone(column))
            .set_compression_codec(chunk.compression_codec())
            .set_encodings_mask(*chunk.encodings_mask())
            .set_total_compressed_size(chunk.compressed_size())
            .set_total_uncompressed_size(chunk.uncompressed_size())
            .set_num_values(chunk.num_values())
            .set_data_page_offset(chunk.data_page_offset() + shift)
            .set_dictionary_page_offset(chunk.dictionary_page_offset().map(|offset| offset + shift));
        if let Some(statistics) = chunk.statistics() {
            moved_chunk = moved_chunk.set_statistics(statistics.clone());
        }
        builder = builder.add_column_metadata(moved_chunk.build()?);
    }
    builder.build()
}

pub(crate) struct Group<'e> {
    encoder: &'e Encoder,
    file: SerializedFileWriter<Vec<u8>>,
    columns: Vec<ArrowColumnWriter>,
}

impl Group<'_> {
    pub(super) fn take(&mut self, rows: &RecordBatch) -> Result<(), RunError> {
        let fields = self.encoder.schema.fields();
        for ((column, field), array) in self.columns.iter_mut().zip(fields).zip(rows.columns()) {
            for leaf in compute_leaves(field, array).map_err(fault)? {
                column.write(&leaf).map_err(fault)?;
            }
        }
        Ok(())
    }

    pub(super) fn finish(mut self) -> Result<Bytes, RunError> {
        let mut group = self.file.next_row_group().map_err(fault)?;
        for column in self.columns {
            column.close().and_then(|chunk| chunk.append_to_row_group(&mut group)).map_err(fault)?;
        }
        group.close().map_err(fault)?;
        let pages = self.file.bytes_written();
        // This also writes the footer.
        let mut buffer = self.file.into_inner().map_err(fault)?;
        let mut note = buffer.split_off(pages);
        note.truncate(note.len().saturating_sub(AFTER_FOOTER));
        Ok(Bytes { buffer, skipped: MAGIC.len(), note })
    }
}

/// What the schema says, by name, for readers that do not know Arrow's own note.
fn key_values(schema: &SchemaRef) -> Vec<KeyValue> {
    let mut entries: Vec<(&String, &String)> = schema.metadata().iter().collect();
    entries.sort();
    entries.into_iter().map(|(name, value)| KeyValue::new(name.clone(), value.clone())).collect()
}

/// How columns are encoded. Measured numbers, and factors without levels, hardly ever repeat, so that a
/// dictionary and compression would cost time and gain nothing. Where factors have few levels, a dictionary
/// makes them, and what follows from them, almost nothing.
fn properties(schema: &SchemaRef, study: &Prepared) -> WriterPropertiesBuilder {
    let mut builder = WriterProperties::builder()
        .set_compression(Compression::UNCOMPRESSED)
        .set_dictionary_enabled(true)
        .set_statistics_enabled(EnabledStatistics::Chunk)
        .set_offset_index_disabled(true);
    for field in schema.fields() {
        let path = ColumnPath::from(field.name().clone());
        if field.name() == ROW {
            builder = builder
                .set_column_dictionary_enabled(path.clone(), false)
                .set_column_encoding(path, Encoding::DELTA_BINARY_PACKED);
        }
    }
    let factors = study.design().factors();
    let is_few = |factor: &PlannedFactor| {
        factor.distribution.levels().is_some_and(|levels| levels.len() <= MOST_LEVELS)
    };
    let all_are_few = factors.iter().all(is_few);
    let mut factors = factors.iter();
    for column in study.columns().iter().filter(|column| column.kind == ColumnKind::Number) {
        let path = ColumnPath::from(column.name.clone());
        let repeats = match column.role {
            ColumnRole::Factor => factors.next().is_some_and(is_few),
            ColumnRole::Derived => all_are_few,
            ColumnRole::Measured | ColumnRole::Note | ColumnRole::Reason => false,
        };
        builder = builder.set_column_dictionary_enabled(path.clone(), repeats);
        if column.role == ColumnRole::Measured {
            builder = builder.set_column_statistics_enabled(path, EnabledStatistics::None);
        }
    }
    builder
}

// By value, to be handed to `map_err`.
#[allow(clippy::needless_pass_by_value)]
fn fault(error: ParquetError) -> RunError {
    RunError::Fault(error.to_string())
}
