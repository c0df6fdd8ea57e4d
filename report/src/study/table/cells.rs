//! Rows as they come out of a file, block by block.

use super::error::TableError;

/// Rows read at once.
pub(super) const BLOCK_ROWS: usize = 1 << 15;
/// Some rows of one column.
#[derive(Clone, Debug, PartialEq)]
pub enum Cells {
    /// Numbers; not a number where there is none.
    Numbers(Vec<f64>),
    Words(Vec<Option<String>>),
    Flags(Vec<Option<bool>>),
}

/// Takes the row numbers of a block and the cells of its columns.
pub(super) type Take<'t> = dyn FnMut(&[u64], &[Cells]) -> Result<(), TableError> + 't;

/// What a file says about itself.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct TableMetadata {
    /// The study as RON.
    pub study: Option<String>,
    pub study_sha256: Option<String>,
    pub version: Option<String>,
}
