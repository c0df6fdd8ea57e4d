//! One row of a study's table, in memory that is used again for the next.

use super::column::{Cell, ColumnKind};
use crate::cusp::{CuspReading, Gauges};
use crate::excursion::Movement;
use crate::scene::Scene;

/// One row: made by [`super::Prepared::row_buffer`], filled by [`super::Prepared::compute`].
///
/// The cells of each kind stand in the order of their columns.
#[derive(Clone, Debug)]
pub struct RowBuffer {
    pub(super) scene: Scene,
    pub(super) gauges: Gauges,
    pub(super) readings: Vec<CuspReading>,
    /// Number columns, factors and derived settings first.
    pub(super) numbers: Vec<f64>,
    pub(super) texts: Vec<Word>,
    pub(super) flags: Vec<Option<bool>>,
    pub(super) reason: String,
    /// Movements without a pose, each in the reason already.
    pub(super) failed: Vec<Movement>,
    pub(super) cusps: Vec<String>,
    /// Kind of each column, and its place among those of its kind.
    pub(super) slots: Vec<(ColumnKind, usize)>,
}

/// A word that needs no memory of its own.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Word {
    Nothing,
    Fixed(&'static str),
    Cusp(usize),
    Reason,
}

impl RowBuffer {
    /// What stands in a column, by its place in [`super::Prepared::columns`]; `None` past the last.
    #[must_use]
    pub fn cell(&self, column: usize) -> Option<Cell<'_>> {
        let (kind, slot) = *self.slots.get(column)?;
        Some(match kind {
            ColumnKind::Number => Cell::Number(self.numbers.get(slot).copied().unwrap_or(f64::NAN)),
            ColumnKind::Text => Cell::Text(self.text(slot)),
            ColumnKind::Flag => Cell::Flag(self.flags.get(slot).copied().flatten()),
        })
    }

    /// Every number column's number, in order; not a number where nothing could be measured.
    #[must_use]
    pub fn numbers(&self) -> &[f64] {
        &self.numbers
    }

    /// The words of the text column that is the `slot`th of its kind.
    #[must_use]
    pub fn text(&self, slot: usize) -> Option<&str> {
        match self.texts.get(slot)? {
            Word::Nothing => None,
            Word::Fixed(word) => Some(word),
            Word::Cusp(cusp) => self.cusps.get(*cusp).map(String::as_str),
            Word::Reason => self.reason(),
        }
    }

    /// Every flag column's answer, in order.
    #[must_use]
    pub fn flags(&self) -> &[Option<bool>] {
        &self.flags
    }

    /// Why something could not be measured in this row, if so.
    #[must_use]
    pub fn reason(&self) -> Option<&str> {
        (!self.reason.is_empty()).then_some(&self.reason)
    }
}
