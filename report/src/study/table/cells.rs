//! Rows as they come out of a file, block by block.

use super::error::TableError;

/// Rows read at once.
pub(super) const BLOCK_ROWS: usize = 1 << 15;
/// Some rows of one column.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Cells {
    /// Numbers; not a number where there is none.
    Numbers(Vec<f64>),
    Words(Vec<Option<String>>),
    Flags(Vec<Option<bool>>),
}

/// Takes the row numbers of a block and the cells of its columns.
pub(super) type Take<'t> = dyn FnMut(&[u64], &[Cells]) -> Result<(), TableError> + 't;

/// What a file says about itself.
#[derive(Clone, Debug, Default, PartialEq)]
pub(crate) struct TableMetadata {
    /// The study as RON.
    pub(crate) study: Option<String>,
    pub(crate) study_sha256: Option<String>,
    pub(crate) version: Option<String>,
    pub(crate) commit: Option<String>,
    pub(crate) build: Option<String>,
    /// Files that were read, as JSON.
    pub(crate) inputs: Option<String>,
}
