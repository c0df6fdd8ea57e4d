//! The files from which a study's factors take columns, each read once.

use std::collections::HashMap;
use std::path::Path;

use sim_core::study::{Study, Values};

use super::{Numbers, bytes, numbers};
use crate::fingerprint::sha256;
use crate::folder::Folder;

/// What the columns of a study's files hold, file by file as they are asked for.
pub(crate) struct ColumnFiles<'s, F: ?Sized> {
    folder: &'s F,
    /// Files and columns that the factors name.
    wanted: Vec<(&'s str, &'s str)>,
    read: HashMap<&'s str, HashMap<&'s str, Numbers>>,
}

/// A column, and what is to be told of its file where this is the first time that the file is read.
pub(crate) struct Taken {
    pub(crate) numbers: Numbers,
    /// SHA-256 of the bytes that the numbers are from.
    pub(crate) first_read: Option<String>,
}

impl<'s, F: Folder + ?Sized> ColumnFiles<'s, F> {
    pub(crate) fn of(study: &'s Study, folder: &'s F) -> Self {
        let wanted = study.factors.iter().filter_map(|factor| match &factor.values {
            Values::Column { file, column } => Some((file.as_str(), column.as_str())),
            _ => None,
        });
        Self { folder, wanted: wanted.collect(), read: HashMap::new() }
    }

    /// A column that a factor names. With it are read all others of its file that factors name.
    ///
    /// # Errors
    /// In words where the file cannot be read, without its name: who asks says it.
    pub(crate) fn take(&mut self, file: &str, column: &str) -> Result<Taken, String> {
        let Some((file, column)) = self.wanted.iter().copied().find(|wanted| *wanted == (file, column))
        else {
            return Err("no factor names it".to_owned());
        };
        let mut first_read = None;
        if !self.read.contains_key(file) {
            let bytes = bytes(self.folder, Path::new(file))?;
            first_read = Some(sha256([bytes.as_slice()]));
            let columns: Vec<&str> =
                self.wanted.iter().filter(|(own, _)| *own == file).map(|(_, column)| *column).collect();
            let read = numbers(bytes, &columns);
            self.read.insert(file, columns.into_iter().zip(read).collect());
        }
        let numbers = self.read.get(file).and_then(|columns| columns.get(column)).cloned();
        Ok(Taken { numbers: numbers.unwrap_or_else(|| Ok(Vec::new())), first_read })
    }
}
