//! Why a table cannot be read.

use std::io;

use parquet::errors::ParquetError;

/// Why a file is no table of a study, or not to its end.
#[derive(Debug, thiserror::Error)]
#[allow(missing_docs)] // the message of each says what its fields are
pub enum TableError {
    #[error("{name}: no such file; `eminentia study run` writes the table of a study")]
    Missing { name: String },
    #[error("{name}: is a folder; a table is a file (Parquet or CSV)")]
    Folder { name: String },
    #[error("{name}: cannot be read: {error}")]
    Unreadable { name: String, error: io::Error },
    #[error("{name}: was changed while it was read; run this again once nothing writes to it")]
    Changed { name: String },
    #[error("{name}: is empty; a table of a study has a line of column names, or is Parquet")]
    Nothing { name: String },
    #[error(
        "{name}: is a Parquet file that is cut short or damaged ({error}); run the study again, or finish it with \
         `eminentia study run --resume`"
    )]
    Damaged { name: String, error: ParquetError },
    #[error(
        "{name}: is called .parquet and is no Parquet file: it does not begin with PAR1; a table in CSV has a name that \
         ends in .csv"
    )]
    NotParquet { name: String },
    #[error("{name}: is no table of a study: its first column is `{first}`, not `row`")]
    NoTable { name: String, first: String },
    #[error(
        "{name}: is no table of this study: its column {number} is `{is}`, where the study has `{wanted}`"
    )]
    OtherColumn { name: String, number: usize, is: String, wanted: String },
    #[error("{name}: is no table of this study: it has {is} columns, and the study has {wanted}")]
    ColumnCount { name: String, is: usize, wanted: usize },
    #[error("{name}: column `{column}` holds {is}, where the study has {wanted}")]
    Kind { name: String, column: String, is: String, wanted: &'static str },
    #[error("{name}:{line}: {what}")]
    Line { name: String, line: u64, what: String },
    #[error(
        "{name}: has column names and no row; a run that was stopped early leaves such a table, and \
             `eminentia study run --resume` finishes it"
    )]
    NoRow { name: String },
    #[error(
        "{name}: row {is} stands where row {wanted} should; rows of a table follow each other, and so do its parts \
         (give each part once, and none left out between)"
    )]
    RowOrder { name: String, is: u64, wanted: u64 },
    /// Ends a scan that has seen enough; told to nobody.
    #[error("enough was read")]
    Enough,
}

impl TableError {
    pub(super) fn unreadable(name: &str, error: io::Error) -> Self {
        let name = name.to_owned();
        if error.kind() == io::ErrorKind::NotFound {
            Self::Missing { name }
        } else {
            Self::Unreadable { name, error }
        }
    }
}
