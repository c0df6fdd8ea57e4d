//! The columns of a study's table.

use crate::excursion::{Drive, Movement};
use crate::frame::Side;
use crate::setting::SettingName;
use crate::units::Unit;

/// One column.
#[derive(Clone, Debug, PartialEq)]
pub struct Column {
    /// Its name, unlike every other's: a setting's name, or excursion, how far, cusp and measure, as
    /// in `protrusive.3mm.36.mesiobuccal.clearance_mm`.
    pub name: String,
    /// What is measured, set or said in it.
    pub content: Content,
    /// Where in an excursion it is measured; nothing for a setting and a reason.
    pub place: Option<ColumnPlace>,
    /// Unit of its numbers, if they have one.
    pub unit: Option<Unit>,
    /// Which values it takes.
    pub kind: ColumnKind,
    /// What it is for.
    pub role: ColumnRole,
}

/// What is measured, set or said in a column.
#[derive(Clone, Debug, PartialEq)]
pub enum Content {
    /// A setting.
    Setting(SettingName),
    /// The separation at a cusp.
    Separation {
        /// The cusp's label, as in `36.mesiobuccal`.
        cusp: String,
    },
    /// The clearance at a cusp.
    Clearance {
        /// The cusp's label.
        cusp: String,
    },
    /// Whether a cusp interferes.
    Interference {
        /// The cusp's label.
        cusp: String,
    },
    /// A part of the Bennett movement.
    BennettMovement(BennettPart),
    /// The advance of a condyle.
    CondylarAdvance(Side),
    /// The rotation of the jaw.
    Opening,
    /// What stops the closing.
    Guidance,
    /// The plane of the guide that is touched.
    GuidePlane,
    /// A coordinate of the lower incisal point.
    IncisalPoint(Direction),
    /// An entry of the jaw's rotation matrix, counted from 0.
    Rotation {
        /// Its row.
        row: usize,
        /// Its column.
        column: usize,
    },
    /// A part of the jaw's translation.
    Translation(Direction),
    /// The cusp that interferes first.
    FirstCusp,
    /// The condylar advance at the first interference.
    FirstAdvance,
    /// What is odd about a row that is whole, in one of [`ArcPassed`](super::ArcPassed)'s words.
    Note,
    /// Why something could not be measured.
    Reason,
}

/// A direction of the upper frame.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Direction {
    /// Along x.
    Ahead,
    /// Along y, to the patient's left.
    Left,
    /// Along z.
    Up,
}

impl Direction {
    /// In the order of coordinates.
    pub(super) const ALL: [Self; 3] = [Self::Ahead, Self::Left, Self::Up];

    /// The coordinate along it.
    pub(super) const fn axis(self) -> &'static str {
        match self {
            Self::Ahead => "x",
            Self::Left => "y",
            Self::Up => "z",
        }
    }
}

/// A part of the Bennett movement.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum BennettPart {
    /// Away from the midline.
    Outward,
    /// Backward.
    Backward,
    /// Upward.
    Upward,
}

impl BennettPart {
    /// In the order of columns.
    pub(super) const ALL: [Self; 3] = [Self::Outward, Self::Backward, Self::Upward];

    /// As a column's name has it.
    pub(super) const fn name(self) -> &'static str {
        match self {
            Self::Outward => "outward",
            Self::Backward => "backward",
            Self::Upward => "upward",
        }
    }
}

/// Where in an excursion a column is measured.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ColumnPlace {
    /// The movement.
    pub movement: Movement,
    /// How far it has gone, or to where something is looked for.
    pub reach: Reach,
}

/// How much of an excursion a column is about.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Reach {
    /// The pose at this end.
    At(Drive),
    /// Every pose from rest up to this end.
    UpTo(Drive),
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
    /// What is odd though it could be measured; nothing in most rows.
    Note,
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
            content: Content::Setting(name.clone()),
            place: None,
            unit: Some(name.facts().unit),
            kind: ColumnKind::Number,
            role,
        }
    }

    /// Something measured at a place in an excursion.
    pub(super) fn measured(
        name: String,
        (content, place): (Content, ColumnPlace),
        unit: Option<Unit>,
        kind: ColumnKind,
    ) -> Self {
        Self { name, content, place: Some(place), unit, kind, role: ColumnRole::Measured }
    }

    pub(super) fn note() -> Self {
        Self::of_row("note", Content::Note, ColumnRole::Note)
    }

    pub(super) fn reason() -> Self {
        Self::of_row("reason", Content::Reason, ColumnRole::Reason)
    }

    /// Words about a row as a whole.
    fn of_row(name: &str, content: Content, role: ColumnRole) -> Self {
        Self { name: name.to_owned(), content, place: None, unit: None, kind: ColumnKind::Text, role }
    }
}
