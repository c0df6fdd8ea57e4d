//! Tables as CSV: every line is gone through, and only the wanted columns are read as numbers. Lines that begin with
//! `#` are comments.

use std::fs::File;
use std::io::BufReader;
use std::path::{Path, PathBuf};

use ::csv::{ByteRecord, ErrorKind, Reader, ReaderBuilder};
use sim_core::study::ColumnKind;

use super::cells::{BLOCK_ROWS, Cells, Take};
use super::error::TableError;

pub(super) struct CsvFile {
    name: String,
    path: PathBuf,
    heads: Vec<String>,
}

impl CsvFile {
    pub(super) fn open(name: &str, path: &Path) -> Result<Self, TableError> {
        let mut file = Self { name: name.to_owned(), path: path.to_owned(), heads: Vec::new() };
        let mut reader = file.reader()?;
        let heads = reader.byte_headers().map_err(|error| file.failure(error))?;
        let heads: Vec<String> =
            heads.iter().map(|head| String::from_utf8_lossy(head).into_owned()).collect();
        file.heads = heads;
        Ok(file)
    }

    pub(super) fn heads(&self) -> &[String] {
        &self.heads
    }

    fn reader(&self) -> Result<Reader<BufReader<File>>, TableError> {
        let file =
            files::open_table(&self.path).map_err(|error| TableError::unreadable(&self.name, error))?;
        Ok(ReaderBuilder::new().comment(Some(b'#')).from_reader(BufReader::with_capacity(1 << 16, file)))
    }

    pub(super) fn scan(&self, wanted: &[(usize, ColumnKind)], take: &mut Take<'_>) -> Result<(), TableError> {
        let mut reader = self.reader()?;
        let mut record = ByteRecord::new();
        let empty = || -> (Vec<u64>, Vec<Cells>) {
            let cells = wanted.iter().map(|(_, kind)| match kind {
                ColumnKind::Number => Cells::Numbers(Vec::with_capacity(BLOCK_ROWS)),
                ColumnKind::Text => Cells::Words(Vec::new()),
                ColumnKind::Flag => Cells::Flags(Vec::new()),
            });
            (Vec::with_capacity(BLOCK_ROWS), cells.collect())
        };
        let (mut rows, mut block) = empty();
        while reader.read_byte_record(&mut record).map_err(|error| self.failure(error))? {
            let line = record.position().map_or(0, ::csv::Position::line);
            let text = |place: usize| {
                std::str::from_utf8(record.get(place).unwrap_or_default())
                    .map_err(|_| self.line(line, "is not UTF-8 text".to_owned()))
            };
            let wrong = |place: usize, given: &str, wanted: &str| {
                let head = self.heads.get(place).map_or("", String::as_str);
                self.line(line, format!("`{head}` is `{given}`, where {wanted} is needed"))
            };
            let given = text(0)?;
            rows.push(given.parse().map_err(|_| wrong(0, given, "a row's number"))?);
            for ((place, _), cells) in wanted.iter().zip(&mut block) {
                let place = place + 1;
                let given = text(place)?;
                match cells {
                    Cells::Numbers(numbers) if given.is_empty() => numbers.push(f64::NAN),
                    Cells::Numbers(numbers) => {
                        numbers.push(given.parse().map_err(|_| wrong(place, given, "a number or nothing"))?);
                    }
                    Cells::Words(words) => words.push((!given.is_empty()).then(|| given.to_owned())),
                    Cells::Flags(flags) => flags.push(match given {
                        "" => None,
                        "true" => Some(true),
                        "false" => Some(false),
                        _ => return Err(wrong(place, given, "true, false or nothing")),
                    }),
                }
            }
            if rows.len() == BLOCK_ROWS {
                take(&rows, &block)?;
                (rows, block) = empty();
            }
        }
        if rows.is_empty() { Ok(()) } else { take(&rows, &block) }
    }

    fn line(&self, line: u64, what: String) -> TableError {
        TableError::Line { name: self.name.clone(), line, what }
    }

    fn failure(&self, error: ::csv::Error) -> TableError {
        let line = error.position().map_or(1, ::csv::Position::line);
        match error.into_kind() {
            ErrorKind::Io(error) => TableError::Unreadable { name: self.name.clone(), error },
            ErrorKind::UnequalLengths { expected_len, len, .. } => self.line(
                line,
                format!("has {len} columns where {expected_len} are needed; the table was cut short there, or edited"),
            ),
            other => self.line(line, format!("is no line of a table ({other:?})")),
        }
    }
}
