//! A table with the study that it is of, and whether it is really of that study.

use std::path::{Path, PathBuf};

use files::{Loaded, Source};
use sim_core::study::{BaseScene, Cell, ColumnRole, Prepared, Study};

use super::error::SummaryError;
use super::table::{Cells, TableMetadata, TablePart, TableParts};
use words::number::whole;

/// Relative difference of two numbers of the same row that rounding on another machine may make.
const ROUNDING: f64 = 1e-9;

/// Numbers of one row: its own, and each column's by place.
pub(super) type RowNumbers = Option<(u64, Vec<(usize, f64)>)>;

/// A study's table opened.
pub struct StudyTable {
    /// The study.
    pub study: Loaded,
    /// Its rows.
    pub(super) table: TableParts,
    /// What the table says of itself.
    pub(super) metadata: TableMetadata,
    /// Number of rows that are there.
    pub rows: u64,
    /// What has to be known about it, in sentences.
    pub notes: Vec<String>,
}

impl StudyTable {
    /// Opens a table, or all its parts; `study` is its study's file, which a CSV needs.
    pub fn new(tables: &[PathBuf], study: Option<&Path>) -> Result<Self, SummaryError> {
        let parts = tables.iter().map(|path| TablePart::open(path)).collect::<Result<Vec<_>, _>>()?;
        let metadata = same_study(&parts)?;
        let name = parts.first().map(TablePart::name).unwrap_or_default();
        let mut notes = Vec::new();
        let study = match study {
            Some(path) => {
                let study = files::load(&Source::named(path))?;
                if metadata.study_sha256.as_ref().is_some_and(|hash| hash != study.sha256()) {
                    return Err(SummaryError::OtherStudy { name, study: study.name });
                }
                study
            }
            None => of_itself(&metadata, &name, &mut notes)?,
        };
        if let Some(version) = metadata.version.as_deref().filter(|version| *version != study_run::VERSION) {
            notes.push(format!(
                "Version {version} made the table; this is {}, whose numbers may differ from it.",
                study_run::VERSION
            ));
        }
        let table = TableParts::new(parts, study.prepared.columns().to_vec())?;
        let mut opened = Self { study, table, metadata, rows: 0, notes };
        opened.count(&name)?;
        Ok(opened)
    }

    fn count(&mut self, name: &str) -> Result<(), SummaryError> {
        let mut past = 0;
        // Any column tells how many rows a block has; the first is a factor's, so numbers.
        self.table.scan(&[0], |first, cells| {
            if let Some(Cells::Numbers(numbers)) = cells.first() {
                past = first + numbers.len() as u64;
            }
        })?;
        let first = self.table.first_row();
        let most = self.study.prepared.row_count();
        self.rows = past.saturating_sub(first);
        if past > most {
            return Err(SummaryError::TooManyRows { name: name.to_owned(), first, rows: self.rows, most });
        }
        if self.rows < most {
            let finish = if first == 0 {
                "; a run that was stopped early is finished by `eminentia study run --resume`"
            } else {
                ""
            };
            self.notes.push(format!(
                "The table is not whole: it has {} of the study's {} rows, from row {} on{finish}.",
                whole(self.rows),
                whole(most),
                whole(first),
            ));
        }
        Ok(())
    }

    /// Hash of the study, as the table says it, else as the study's file gives it.
    pub(super) fn study_sha256(&self) -> &str {
        self.metadata.study_sha256.as_deref().unwrap_or_else(|| self.study.sha256())
    }

    /// Whether every row of the study is there.
    pub fn is_whole(&self) -> bool {
        self.rows == self.study.prepared.row_count()
    }

    /// Computes the first and the last row anew and compares: a CSV says nothing of its study, and a
    /// study may have been changed since. Rows of another version may differ.
    pub(super) fn check_rows(&self, first: &RowNumbers, last: &RowNumbers) -> Result<(), SummaryError> {
        if self.metadata.version.as_ref().is_some_and(|version| version != study_run::VERSION) {
            return Ok(());
        }
        let prepared = &self.study.prepared;
        // Casts are mounted only where the study's file is named.
        let has_casts = matches!(&prepared.study().scene, BaseScene::Here(scene) if scene.has_casts());
        let mut buffer = prepared.row_buffer();
        for (row, numbers) in [first, last].into_iter().flatten() {
            if prepared.compute(*row, &mut buffer).is_err() {
                continue;
            }
            for (place, is) in numbers {
                let column = &prepared.columns()[*place];
                let Some(Cell::Number(should_be)) = buffer.cell(*place) else { continue };
                let same = (is.is_nan() && should_be.is_nan())
                    || (is - should_be).abs() <= ROUNDING * should_be.abs().max(1.0);
                if same || (has_casts && column.role == ColumnRole::Measured) {
                    continue;
                }
                return Err(SummaryError::OtherNumbers {
                    name: self.table.names().join(", "),
                    study: format!("the study “{}”", prepared.study().title),
                    row: *row,
                    column: column.name.clone(),
                    is: *is,
                    should_be,
                });
            }
        }
        Ok(())
    }
}

/// What the parts say of their study, which must be the same.
fn same_study(parts: &[TablePart]) -> Result<TableMetadata, SummaryError> {
    let mut parts = parts.iter().map(|part| (part.name(), part.metadata()));
    let Some((first, metadata)) = parts.next() else { return Ok(TableMetadata::default()) };
    for (second, other) in parts {
        let of = |said: &TableMetadata| (said.study_sha256.clone(), said.version.clone(), said.study.clone());
        if of(&other) != of(&metadata) {
            return Err(SummaryError::Mixed { first, second });
        }
    }
    Ok(metadata)
}

/// The study that a table holds in itself.
fn of_itself(metadata: &TableMetadata, name: &str, notes: &mut Vec<String>) -> Result<Loaded, SummaryError> {
    let Some(text) = &metadata.study else { return Err(SummaryError::NoStudy { name: name.to_owned() }) };
    let study =
        Study::from_ron(text).map_err(|error| SummaryError::Unread { name: name.to_owned(), error })?;
    let BaseScene::Here(scene) = &study.scene else {
        return Err(SummaryError::NoStudy { name: name.to_owned() });
    };
    let no_file = |file: &str, _: &str| Err(format!("{file} is not in the table"));
    let prepared = Prepared::new(&study, scene, no_file)
        .map_err(|error| SummaryError::Unready { name: name.to_owned(), error: Box::new(error) })?;
    let has_files = scene.casts.is_some();
    let study = Loaded::new(prepared, name);
    let hash = metadata.study_sha256.as_deref();
    if !has_files && hash.is_some_and(|hash| hash != study.sha256()) {
        notes.push(
            "The study in the table does not give the hash that stands beside it: another version wrote it, \
             or it was changed."
                .to_owned(),
        );
    }
    Ok(study)
}
