//! The columns of a study's table.

use crate::units::Unit;

/// One column.
#[derive(Clone, Debug, PartialEq)]
pub struct Column {
    /// Its name, unlike every other's: a setting's name, or excursion, how far, cusp and measure, as
    /// in `protrusive.3mm.36.mesiobuccal.clearance_mm`.
    pub name: String,
    /// Unit of its numbers, if they have one.
    pub unit: Option<Unit>,
    /// What stands in it.
    pub kind: ColumnKind,
    /// What it is for.
    pub role: ColumnRole,
}

/// What stands in a column.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ColumnKind {
    /// Numbers; not a number where nothing could be measured.
    Number,
    /// Words, or nothing.
    Text,
    /// Yes, no, or nothing.
    Flag,
}

/// What a column is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ColumnRole {
    /// A factor.
    Factor,
    /// A setting that follows from factors.
    Derived,
    /// Something measured.
    Measured,
    /// Why something could not be measured; nothing in a row that is whole.
    Reason,
}

/// What stands in one row of a column.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Cell<'r> {
    /// A number, not a number for nothing.
    Number(f64),
    /// Words.
    Text(Option<&'r str>),
    /// Yes or no.
    Flag(Option<bool>),
}

impl Column {
    pub(super) fn number(name: String, unit: Option<Unit>, role: ColumnRole) -> Self {
        Self { name, unit, kind: ColumnKind::Number, role }
    }

    pub(super) fn measured(name: String, unit: Unit) -> Self {
        Self::number(name, Some(unit), ColumnRole::Measured)
    }

    pub(super) fn text(name: String, role: ColumnRole) -> Self {
        Self { name, unit: None, kind: ColumnKind::Text, role }
    }

    pub(super) fn flag(name: String) -> Self {
        Self { name, unit: None, kind: ColumnKind::Flag, role: ColumnRole::Measured }
    }
}
