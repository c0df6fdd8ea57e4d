//! Tables as Parquet: columns are read by themselves, row group by row group.

use std::collections::HashMap;
use std::fs::File;

use parquet::arrow::parquet_to_arrow_schema;
use parquet::column::reader::ColumnReader;
use parquet::errors::ParquetError;
use parquet::file::reader::{FileReader as _, SerializedFileReader};
use sim_core::study::ColumnKind;
use study_run::key;

use super::cells::{BLOCK_ROWS, Cells, TableMetadata, Take};
use super::error::TableError;

pub(super) struct ParquetFile {
    name: String,
    reader: SerializedFileReader<File>,
    about: HashMap<String, String>,
}

impl ParquetFile {
    pub(super) fn open(name: &str, file: File) -> Result<Self, TableError> {
        let damaged = |error| TableError::Damaged { name: name.to_owned(), error };
        let reader = SerializedFileReader::new(file).map_err(damaged)?;
        let about = reader.metadata().file_metadata();
        let schema = parquet_to_arrow_schema(about.schema_descr(), about.key_value_metadata());
        let about = schema.map_err(damaged)?.metadata.into();
        Ok(Self { name: name.to_owned(), reader, about })
    }

    pub(super) fn metadata(&self) -> TableMetadata {
        let value = |key: &str| self.about.get(key).cloned();
        TableMetadata {
            study: value(key::STUDY),
            study_sha256: value(key::STUDY_SHA256),
            version: value(key::VERSION),
            commit: value(key::COMMIT),
            build: value(key::BUILD),
            inputs: value(key::INPUTS),
        }
    }

    pub(super) fn heads(&self) -> Vec<String> {
        let schema = self.reader.metadata().file_metadata().schema_descr();
        schema.columns().iter().map(|column| column.path().string()).collect()
    }

    pub(super) fn scan(&self, wanted: &[(usize, ColumnKind)], take: &mut Take<'_>) -> Result<(), TableError> {
        let damaged = |error| TableError::Damaged { name: self.name.clone(), error };
        for group in 0..self.reader.num_row_groups() {
            let group = self.reader.get_row_group(group).map_err(damaged)?;
            let mut left = usize::try_from(group.metadata().num_rows()).unwrap_or(0);
            let mut rows = group.get_column_reader(0).map_err(damaged)?;
            let mut readers = Vec::with_capacity(wanted.len());
            for (place, kind) in wanted {
                // The first column is the row's number.
                readers.push((place + 1, *kind, group.get_column_reader(place + 1).map_err(damaged)?));
            }
            while left > 0 {
                let count = left.min(BLOCK_ROWS);
                let numbers = self.row_numbers(&mut rows, count)?;
                let mut block = Vec::with_capacity(readers.len());
                for (place, kind, reader) in &mut readers {
                    block.push(self.cells(reader, *kind, *place, count)?);
                }
                take(&numbers, &block)?;
                left -= count;
            }
        }
        Ok(())
    }

    #[allow(clippy::cast_sign_loss)] // Parquet has no other word for whole numbers without sign
    fn row_numbers(&self, reader: &mut ColumnReader, count: usize) -> Result<Vec<u64>, TableError> {
        let ColumnReader::Int64ColumnReader(reader) = reader else {
            return Err(self.other_kind(0, "whole numbers"));
        };
        let (mut levels, mut values) = (Vec::new(), Vec::with_capacity(count));
        let read = reader.read_records(count, Some(&mut levels), None, &mut values);
        self.whole(read, count)?;
        if values.len() < count {
            return Err(self.short());
        }
        Ok(values.into_iter().map(|value| value as u64).collect())
    }

    fn cells(
        &self,
        reader: &mut ColumnReader,
        kind: ColumnKind,
        place: usize,
        count: usize,
    ) -> Result<Cells, TableError> {
        let mut levels = Vec::new();
        Ok(match (kind, reader) {
            (ColumnKind::Number, ColumnReader::DoubleColumnReader(reader)) => {
                let mut values = Vec::with_capacity(count);
                self.whole(reader.read_records(count, Some(&mut levels), None, &mut values), count)?;
                let cells = spread(values, &levels, count).map(|cell| cell.unwrap_or(f64::NAN));
                Cells::Numbers(cells.collect())
            }
            (ColumnKind::Text, ColumnReader::ByteArrayColumnReader(reader)) => {
                let mut values = Vec::with_capacity(count);
                self.whole(reader.read_records(count, Some(&mut levels), None, &mut values), count)?;
                let text =
                    |bytes: parquet::data_type::ByteArray| String::from_utf8_lossy(bytes.data()).into_owned();
                Cells::Words(spread(values, &levels, count).map(|cell| cell.map(text)).collect())
            }
            (ColumnKind::Flag, ColumnReader::BoolColumnReader(reader)) => {
                let mut values = Vec::with_capacity(count);
                self.whole(reader.read_records(count, Some(&mut levels), None, &mut values), count)?;
                Cells::Flags(spread(values, &levels, count).collect())
            }
            (ColumnKind::Number, _) => return Err(self.other_kind(place, "numbers (DOUBLE)")),
            (ColumnKind::Text, _) => return Err(self.other_kind(place, "words (BYTE_ARRAY)")),
            (ColumnKind::Flag, _) => return Err(self.other_kind(place, "yes or no (BOOLEAN)")),
        })
    }

    fn whole(
        &self,
        read: Result<(usize, usize, usize), ParquetError>,
        count: usize,
    ) -> Result<(), TableError> {
        match read {
            Ok((records, ..)) if records == count => Ok(()),
            Ok(_) => Err(self.short()),
            Err(error) => Err(TableError::Damaged { name: self.name.clone(), error }),
        }
    }

    fn short(&self) -> TableError {
        let error = ParquetError::General("a column ends before its row group".to_owned());
        TableError::Damaged { name: self.name.clone(), error }
    }

    fn other_kind(&self, place: usize, wanted: &'static str) -> TableError {
        let column = self.reader.metadata().file_metadata().schema_descr().column(place);
        TableError::Kind {
            name: self.name.clone(),
            column: column.path().string(),
            is: column.physical_type().to_string(),
            wanted,
        }
    }
}

/// Values with the gaps between them; levels tell where there is one, and none is needed in a column
/// without gaps.
fn spread<T>(values: Vec<T>, levels: &[i16], count: usize) -> impl Iterator<Item = Option<T>> {
    let mut values = values.into_iter();
    (0..count).map(move |at| match levels.get(at) {
        Some(0) => None,
        _ => values.next(),
    })
}
