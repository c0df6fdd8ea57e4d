//! A study's finished table: one file, or the parts of one, read in blocks of rows and only the
//! columns that are wanted.
//!
//! A block is a few megabytes whatever the table's size.

mod cells;
mod csv_file;
mod error;
mod parquet_file;

use std::io::{ErrorKind, Read as _};
use std::path::{Path, PathBuf};

use files::Stamp;
use sim_core::study::{Column, ColumnKind};

use cells::Take;
use csv_file::CsvFile;
use parquet_file::ParquetFile;

pub(super) use cells::{Cells, TableMetadata};
pub use error::TableError;

/// Bytes at the beginning of every Parquet file.
const PARQUET_MARK: &[u8; 4] = b"PAR1";

/// One file that holds rows.
pub(crate) struct TablePart {
    pub(crate) path: PathBuf,
    form: Form,
    /// Of the file as it was opened: it is gone through several times, and all of them are to be of one table.
    opened: Option<Stamp>,
}

enum Form {
    Parquet(Box<ParquetFile>),
    Csv(CsvFile),
}

impl TablePart {
    /// Opens a file; Parquet is told by its first bytes, everything else is read as CSV.
    pub(crate) fn open(path: &Path) -> Result<Self, TableError> {
        let name = words::quoted::path(path);
        let unreadable = |error: std::io::Error| match error.kind() {
            ErrorKind::IsADirectory => TableError::Folder { name: name.clone() },
            _ => TableError::unreadable(&name, error),
        };
        let opened = Stamp::of(path);
        let mut file = files::open_table(path).map_err(unreadable)?;
        let mut mark = Vec::with_capacity(PARQUET_MARK.len());
        (&mut file).take(PARQUET_MARK.len() as u64).read_to_end(&mut mark).map_err(unreadable)?;
        let form = if mark.is_empty() {
            return Err(TableError::Nothing { name });
        } else if mark == PARQUET_MARK {
            Form::Parquet(Box::new(ParquetFile::open(&name, file)?))
        } else if path.extension().is_some_and(|ending| ending.eq_ignore_ascii_case("parquet")) {
            return Err(TableError::NotParquet { name });
        } else {
            Form::Csv(CsvFile::open(&name, path)?)
        };
        Ok(Self { path: path.to_owned(), form, opened })
    }

    pub(crate) fn name(&self) -> String {
        words::quoted::path(&self.path)
    }

    pub(crate) fn metadata(&self) -> TableMetadata {
        match &self.form {
            Form::Parquet(file) => file.metadata(),
            Form::Csv(_) => TableMetadata::default(),
        }
    }

    fn heads(&self) -> Vec<String> {
        match &self.form {
            Form::Parquet(file) => file.heads(),
            Form::Csv(file) => file.heads().to_vec(),
        }
    }

    /// That the columns are the row's number and these, in order.
    fn check_heads(&self, columns: &[Column]) -> Result<(), TableError> {
        let heads = self.heads();
        let wanted =
            || std::iter::once(study_run::ROW).chain(columns.iter().map(|column| column.name.as_str()));
        let differs = wanted().zip(heads.iter().map(String::as_str)).position(|(wanted, is)| wanted != is);
        let name = self.name();
        if heads.first().is_none_or(|head| head != study_run::ROW) {
            let first = heads.first().cloned().unwrap_or_default();
            return Err(TableError::NoTable { name, first });
        }
        if let Some(place) = differs {
            let is = heads[place].clone();
            let wanted = wanted().nth(place).unwrap_or_default().to_owned();
            return Err(TableError::OtherColumn { name, number: place + 1, is, wanted });
        }
        let (is, wanted) = (heads.len(), columns.len() + 1);
        if is == wanted { Ok(()) } else { Err(TableError::ColumnCount { name, is, wanted }) }
    }

    /// Row numbers and cells of some columns, block by block.
    fn scan(&self, wanted: &[(usize, ColumnKind)], take: &mut Take<'_>) -> Result<(), TableError> {
        let scanned = match &self.form {
            Form::Parquet(file) => file.scan(wanted, take),
            Form::Csv(file) => file.scan(wanted, take),
        };
        // Before what is said of a row: a row that is wrong because the file was changed is not what is wrong.
        if Stamp::of(&self.path) != self.opened {
            return Err(TableError::Changed { name: self.name() });
        }
        scanned
    }
}

/// A table: its parts in the order of their rows.
pub(crate) struct TableParts {
    parts: Vec<TablePart>,
    columns: Vec<Column>,
    first_row: u64,
}

impl TableParts {
    /// Puts parts together; `columns` are the study's.
    pub(crate) fn new(parts: Vec<TablePart>, columns: Vec<Column>) -> Result<Self, TableError> {
        let mut begun: Vec<(u64, TablePart)> = Vec::with_capacity(parts.len());
        let mut nothing = None;
        for part in parts {
            part.check_heads(&columns)?;
            let mut first = None;
            let ended = part.scan(&[], &mut |rows, _| {
                first = rows.first().copied();
                Err(TableError::Enough)
            });
            match (ended, first) {
                (_, Some(first)) => begun.push((first, part)),
                (Err(error), None) => return Err(error),
                (Ok(()), None) => nothing = Some(part.name()),
            }
        }
        begun.sort_by_key(|(first, _)| *first);
        let first_row = match (begun.first(), nothing) {
            (Some((first, _)), _) => *first,
            (None, name) => return Err(TableError::NoRow { name: name.unwrap_or_default() }),
        };
        Ok(Self { parts: begun.into_iter().map(|(_, part)| part).collect(), columns, first_row })
    }

    pub(crate) fn columns(&self) -> &[Column] {
        &self.columns
    }

    /// Number in the study of the first row that is there.
    pub(crate) const fn first_row(&self) -> u64 {
        self.first_row
    }

    /// Its files, in the order of their rows.
    pub(crate) fn paths(&self) -> impl Iterator<Item = &Path> {
        self.parts.iter().map(|part| part.path.as_path())
    }

    pub(crate) fn names(&self) -> Vec<String> {
        self.parts.iter().map(TablePart::name).collect()
    }

    /// Goes through all rows: `take` is given the number of a block's first row and the cells of the
    /// columns asked for, by their places in [`Self::columns`]. Rows must follow each other.
    pub(crate) fn scan(
        &self,
        columns: &[usize],
        mut take: impl FnMut(u64, &[Cells]),
    ) -> Result<(), TableError> {
        let wanted: Vec<(usize, ColumnKind)> =
            columns.iter().map(|place| (*place, self.columns[*place].kind)).collect();
        let mut next = self.first_row;
        for part in &self.parts {
            part.scan(&wanted, &mut |rows, cells| {
                let first = next;
                for row in rows {
                    if *row != next {
                        return Err(TableError::RowOrder { name: part.name(), is: *row, wanted: next });
                    }
                    next += 1;
                }
                take(first, cells);
                Ok(())
            })?;
        }
        Ok(())
    }

    /// Whole columns of numbers, by their places: 8 bytes a row each. `rows` is how many there are,
    /// so that none grows beyond what it needs.
    pub(crate) fn numbers(&self, columns: &[usize], rows: u64) -> Result<Vec<Vec<f64>>, TableError> {
        let rows = usize::try_from(rows).unwrap_or_default();
        let mut whole: Vec<Vec<f64>> =
            std::iter::repeat_with(|| Vec::with_capacity(rows)).take(columns.len()).collect();
        self.scan(columns, |_, block| {
            for (column, cells) in whole.iter_mut().zip(block) {
                if let Cells::Numbers(numbers) = cells {
                    column.extend_from_slice(numbers);
                }
            }
        })?;
        Ok(whole)
    }
}

#[cfg(test)]
mod tests {
    use std::fs;

    use super::*;

    /// A table that something else writes to while it is read is refused, whatever the rows then say.
    #[test]
    fn a_table_that_changes_while_it_is_read_is_told() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("t.csv");
        let text = "row,a\n0,1\n1,2\n2,3\n";
        let (shorter, other) = ("row,a\n0,1\n", "row,a\n0,1\n1,2\n2,9\n");
        let scanned = |change: &dyn Fn()| {
            fs::write(&path, text).unwrap();
            let part = TablePart::open(&path).unwrap();
            let mut seen = 0;
            let outcome = part.scan(&[(0, ColumnKind::Number)], &mut |rows, _| {
                seen += rows.len();
                change();
                Ok(())
            });
            (seen, outcome)
        };
        assert!(matches!(scanned(&|| ()), (3, Ok(()))));
        let replaced = || {
            fs::write(folder.path().join("new.csv"), other).unwrap();
            fs::rename(folder.path().join("new.csv"), &path).unwrap();
        };
        let changes: [&dyn Fn(); 3] =
            [&|| fs::write(&path, shorter).unwrap(), &replaced, &|| fs::remove_file(&path).unwrap()];
        for change in changes {
            let (_, outcome) = scanned(change);
            assert!(
                matches!(&outcome, Err(TableError::Changed { name }) if name.ends_with("t.csv")),
                "{outcome:?}"
            );
        }
    }
}
