//! Whether a table fits on its disk, asked before its first row is computed.
//!
//! A study of 10¹⁵ rows is typed as easily as one of 10³. What it needs is first bounded from above by its columns
//! alone; only where that does not fit are some rows encoded, to reckon with what they really take.

use std::ops::Range;
use std::path::Path;

use sim_core::study::{ColumnKind, Prepared};

use crate::error::RunError;
use crate::form::Form;
use crate::groups::Maker;

/// What to do where a table seems not to fit on its disk.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum FreeSpace {
    /// Refuse to run.
    #[default]
    Asked,
    /// Run all the same: the disk may pack what is written, or grow.
    Ignored,
}

/// Most bytes that a number takes: eight in Parquet, its digits and a comma in CSV.
const fn most_of_a_number(form: Form) -> f64 {
    match form {
        Form::Parquet => 8.5,
        Form::Csv => 26.0,
    }
}

/// Most bytes of a cell of words, or of yes and no, on the average: words are few and stand in a dictionary, but in CSV
/// each is written out. A reason may be longer; not every row has one.
const fn most_of_a_word(form: Form) -> f64 {
    match form {
        Form::Parquet => 8.0,
        Form::Csv => 60.0,
    }
}

/// Rows that are encoded to see what they take.
const TRIED_ROWS: u64 = 8192;

/// Bytes that are free for the user on the disk of a file that is there or is to be; nothing where the system does not
/// tell, as on some network disks.
#[must_use]
pub fn free_bytes(file: &Path) -> Option<u64> {
    let folder = file.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."));
    fs4::available_space(folder).ok()
}

/// Refuses rows that do not fit.
pub(crate) fn check(file: &Path, form: Form, maker: &Maker<'_>, rows: &Range<u64>) -> Result<(), RunError> {
    let Some(free) = free_bytes(file) else { return Ok(()) };
    #[allow(clippy::cast_precision_loss)] // an estimate
    let (free, count) = (free as f64, (rows.end - rows.start) as f64);
    if count * bound(maker.prepared, form) <= free {
        return Ok(());
    }
    let needed = count * bytes_a_row(maker, form, rows)?;
    if needed <= free {
        return Ok(());
    }
    Err(RunError::NoRoom {
        name: words::quoted::path(file),
        needed: words::number::bytes(needed),
        free: words::number::bytes(free),
    })
}

/// No row takes more on the average.
fn bound(study: &Prepared, form: Form) -> f64 {
    let of_column = |kind: ColumnKind| match kind {
        ColumnKind::Number => most_of_a_number(form),
        ColumnKind::Text | ColumnKind::Flag => most_of_a_word(form),
    };
    most_of_a_number(form) + study.columns().iter().map(|column| of_column(column.kind)).sum::<f64>()
}

/// As some rows show it. Where casts guide a row takes long to compute, and the bound must do.
fn bytes_a_row(maker: &Maker<'_>, form: Form, rows: &Range<u64>) -> Result<f64, RunError> {
    if maker.grouping.piece == 1 {
        return Ok(bound(maker.prepared, form));
    }
    let tried = rows.start..rows.end.min(rows.start + TRIED_ROWS.min(maker.grouping.rows));
    let made = maker.make(tried.clone(), &|| false)?;
    #[allow(clippy::cast_precision_loss)] // few
    let a_row =
        made.map_or(0, |made| made.bytes.body().len()) as f64 / (tried.end - tried.start).max(1) as f64;
    Ok(a_row)
}
