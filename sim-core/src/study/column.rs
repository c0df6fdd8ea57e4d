//! The columns of a study's table.

use crate::setting::SettingName;
use crate::units::Unit;

/// One column.
#[derive(Clone, Debug, PartialEq)]
pub struct Column {
    /// Its name, unlike every other's: a setting's name, or excursion, how far, cusp and measure, as
    /// in `protrusive.3mm.36.mesiobuccal.clearance_mm`.
    pub name: String,
    /// What its numbers are, in words: `clearance at 36 mesiobuccal`.
    pub what: String,
    /// Where in an excursion they are measured, in words: `protrusive, 3 mm`; nothing for a setting and
    /// a reason.
    pub place: Option<String>,
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
    pub(super) fn setting(name: &SettingName, role: ColumnRole) -> Self {
        Self {
            name: name.written().to_owned(),
            what: name.words(),
            place: None,
            unit: Some(name.facts().unit),
            kind: ColumnKind::Number,
            role,
        }
    }

    /// Something measured at a place in an excursion.
    pub(super) fn measured(
        name: String,
        (what, place): (String, &str),
        unit: Option<Unit>,
        kind: ColumnKind,
    ) -> Self {
        Self { name, what, place: Some(place.to_owned()), unit, kind, role: ColumnRole::Measured }
    }

    pub(super) fn reason() -> Self {
        Self {
            name: "reason".to_owned(),
            what: "why something could not be measured".to_owned(),
            place: None,
            unit: None,
            kind: ColumnKind::Text,
            role: ColumnRole::Reason,
        }
    }

    /// What and where, in words: `clearance at 36 mesiobuccal, protrusive, 3 mm`.
    #[must_use]
    pub fn words(&self) -> String {
        match &self.place {
            Some(place) => format!("{}, {place}", self.what),
            None => self.what.clone(),
        }
    }
}
