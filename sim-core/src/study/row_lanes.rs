//! Rows of a study's table that are computed together, in memory that is used again for the next.

use super::arc::ArcWatch;
use super::column::ColumnKind;
use super::row::{RowBuffer, Word};
use crate::cusp::GaugeLanes;
use crate::excursion::{Mechanism, MechanismLanes, PoseLanes};
use crate::lanes::{LANES, Lane};

/// Some rows, [`LANES`] at most: made by [`super::Prepared::row_lanes`], filled by
/// [`super::Prepared::compute_lanes`].
///
/// The cells of each kind stand in the order of their columns; each column has a cell for each row.
#[derive(Clone, Debug)]
pub struct RowLanes {
    /// One row by itself: settings are put into its scene, and what lanes do not do it does.
    pub(super) row: RowBuffer,
    pub(super) mechanism: Mechanism,
    pub(super) mechanisms: MechanismLanes,
    pub(super) poses: PoseLanes,
    pub(super) gauges: GaugeLanes,
    /// Number columns, factors and derived settings first.
    pub(super) numbers: Vec<Lane>,
    pub(super) texts: Vec<[Word; LANES]>,
    pub(super) flags: Vec<[Option<bool>; LANES]>,
    pub(super) reasons: [String; LANES],
    pub(super) watches: [Option<ArcWatch>; LANES],
    /// Rows that are to be computed by themselves.
    pub(super) alone: [bool; LANES],
    pub(super) used: usize,
}

impl RowLanes {
    pub(super) fn new(row: RowBuffer, mechanism: Mechanism) -> Self {
        let of_kind = |kind| row.slots.iter().filter(|(own, _)| *own == kind).count();
        Self {
            mechanisms: MechanismLanes::default(),
            poses: PoseLanes::default(),
            gauges: GaugeLanes::new(&row.gauges),
            numbers: vec![[f64::NAN; LANES]; of_kind(ColumnKind::Number)],
            texts: vec![[Word::Nothing; LANES]; of_kind(ColumnKind::Text)],
            flags: vec![[None; LANES]; of_kind(ColumnKind::Flag)],
            reasons: [const { String::new() }; LANES],
            watches: [const { None }; LANES],
            alone: [false; LANES],
            used: 0,
            row,
            mechanism,
        }
    }

    /// How many rows were computed.
    #[must_use]
    pub const fn rows(&self) -> usize {
        self.used
    }

    /// Every number column's numbers, in order; not a number where nothing could be measured. What stands behind
    /// the last row means nothing.
    #[must_use]
    pub fn numbers(&self) -> &[[f64; LANES]] {
        &self.numbers
    }

    /// The words of a row in the text column that is the `slot`th of its kind.
    #[must_use]
    pub fn text(&self, slot: usize, lane: usize) -> Option<&str> {
        match self.texts.get(slot)?.get(lane)? {
            Word::Nothing => None,
            Word::Fixed(word) => Some(word),
            Word::Cusp(cusp) => self.row.cusps.get(*cusp).map(String::as_str),
            Word::Reason => self.reasons.get(lane).filter(|reason| !reason.is_empty()).map(String::as_str),
        }
    }

    /// The answer of a row in the flag column that is the `slot`th of its kind.
    #[must_use]
    pub fn flag(&self, slot: usize, lane: usize) -> Option<bool> {
        self.flags.get(slot)?.get(lane).copied().flatten()
    }

    /// Puts the row that was computed by itself among the others.
    pub(super) fn take_row(&mut self, lane: usize) {
        for (column, number) in self.numbers.iter_mut().zip(&self.row.numbers) {
            column[lane] = *number;
        }
        for (column, word) in self.texts.iter_mut().zip(&self.row.texts) {
            column[lane] = *word;
        }
        for (column, flag) in self.flags.iter_mut().zip(&self.row.flags) {
            column[lane] = *flag;
        }
        self.reasons[lane].clone_from(&self.row.reason);
    }

    /// Puts the factors' values of a row into the row by itself.
    #[inline]
    pub(super) fn give_values(&mut self, lane: usize, factors: usize) {
        self.row.numbers.clear();
        self.row.numbers.extend(self.numbers.iter().take(factors).map(|column| column[lane]));
    }
}
