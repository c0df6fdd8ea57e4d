//! What can be wrong with a deal, what it is asked under, and what must then be left open.

use serde::{Deserialize, Serialize};

use super::Form;

/// What can be wrong with a deal.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
pub enum Fault {
    /// The tracing was made twice on one plate, with two apexes.
    DoubleTracing,
    /// The tracing plate is not parallel to the occlusal plane.
    TippedPlate,
    /// The tentative centric record is off in one [`Direction`], which its repeat shows.
    WrongCentric,
    /// The protrusive record is too short.
    ShortProtrusion,
    /// The bearing point has not gone through the protrusive record.
    UnperforatedProtrusion,
    /// The tissue gives way: repeats of the protrusive record differ.
    ResilientTissue,
    /// The lateral records are labelled with the wrong sides.
    SwappedSides,
    /// The bearing point has not gone through one of the lateral records.
    UnperforatedLateral,
    /// A guide stands as its last user left it.
    UnzeroedGuide,
    /// A guide is not locked: what its scale reads drifts from one closing to the next.
    UnlockedGuide,
    /// The incisal pin is not flush.
    PinNotFlush,
    /// A wing of the incisal table is not level.
    WingNotZeroed,
}

impl Fault {
    /// All, in the order of an answer's verdicts.
    pub const ALL: [Self; 12] = [
        Self::DoubleTracing,
        Self::TippedPlate,
        Self::WrongCentric,
        Self::ShortProtrusion,
        Self::UnperforatedProtrusion,
        Self::ResilientTissue,
        Self::SwappedSides,
        Self::UnperforatedLateral,
        Self::UnzeroedGuide,
        Self::UnlockedGuide,
        Self::PinNotFlush,
        Self::WingNotZeroed,
    ];

    /// The verdict that it belongs to.
    #[must_use]
    pub const fn check(self) -> Check {
        match self {
            Self::DoubleTracing | Self::TippedPlate => Check::Tracing,
            Self::WrongCentric => Check::CentricRecord,
            Self::ShortProtrusion | Self::UnperforatedProtrusion | Self::ResilientTissue => {
                Check::ProtrusiveRecord
            }
            Self::SwappedSides | Self::UnperforatedLateral => Check::LateralRecords,
            Self::UnzeroedGuide => Check::Guides,
            Self::UnlockedGuide => Check::Locks,
            Self::PinNotFlush => Check::Pin,
            Self::WingNotZeroed => Check::Table,
        }
    }

    /// Whether a deal of this form can show it: readings that drift, and records that differ, show where
    /// readings are repeated.
    #[must_use]
    pub fn is_of(self, form: Form) -> bool {
        form == Form::Bench || !matches!(self, Self::UnlockedGuide | Self::ResilientTissue)
    }
}

/// What an answer gives a verdict on.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Check {
    /// Is the tracing single, and the plate level?
    Tracing,
    /// Does the repeat confirm the tentative centric record?
    CentricRecord,
    /// Does the protrusive record serve?
    ProtrusiveRecord,
    /// Do the lateral records serve?
    LateralRecords,
    /// Do the guides stand as zeroed?
    Guides,
    /// Do the guides hold what they are set to?
    Locks,
    /// Is the pin flush?
    Pin,
    /// Are plate and wings of the incisal table level?
    Table,
}

impl Check {
    /// All, in the order of an answer's verdicts.
    pub const ALL: [Self; 8] = [
        Self::Tracing,
        Self::CentricRecord,
        Self::ProtrusiveRecord,
        Self::LateralRecords,
        Self::Guides,
        Self::Locks,
        Self::Pin,
        Self::Table,
    ];

    /// The verdict's field in an answer.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Tracing => "tracing",
            Self::CentricRecord => "centric_record",
            Self::ProtrusiveRecord => "protrusive_record",
            Self::LateralRecords => "lateral_records",
            Self::Guides => "guides",
            Self::Locks => "locks",
            Self::Pin => "pin",
            Self::Table => "table",
        }
    }
}

/// Where a tentative centric record holds the jaw, seen from where its repeat does.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub enum Direction {
    /// Too far forward.
    Forward,
    /// Too far back.
    Back,
    /// Too far to the patient's right.
    Right,
    /// Too far to the patient's left.
    Left,
}

impl Direction {
    /// All.
    pub const ALL: [Self; 4] = [Self::Forward, Self::Back, Self::Right, Self::Left];

    /// `Forward`, `Back`, `Right` or `Left`: the word that an answer uses.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Forward => "Forward",
            Self::Back => "Back",
            Self::Right => "Right",
            Self::Left => "Left",
        }
    }

    /// Its unit vector (forward, left) in the upper frame.
    pub(super) const fn vector(self) -> [f64; 2] {
        match self {
            Self::Forward => [1.0, 0.0],
            Self::Back => [-1.0, 0.0],
            Self::Right => [0.0, -1.0],
            Self::Left => [0.0, 1.0],
        }
    }

    /// The direction of a shift (forward, left); `None` where it goes nearly as far across it, so that
    /// nobody could name one.
    pub(super) fn of([forward, left]: [f64; 2]) -> Option<Self> {
        Self::ALL.into_iter().find(|direction| {
            let [x, y] = direction.vector();
            x * forward + y * left > PLAIN * (x * left - y * forward).abs()
        })
    }
}

/// A shift goes plainly in a direction in which it goes so many times as far as across it.
const PLAIN: f64 = 2.0;
