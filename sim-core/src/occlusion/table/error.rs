//! Why no table can be formed.

use std::fmt;

use crate::anterior::NoHeightField;
use crate::cast::SurfaceError;
use crate::excursion::NoPose;
use crate::units::Length;

/// Why no table can be formed.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum NoTable {
    /// The teeth hold no pose even at the start.
    #[error("the teeth guide no excursion: {0}")]
    NoPose(#[from] NoPose),
    /// Teeth never meet, so that the raised pin is what stops the jaw.
    #[error("no teeth meet in {movement}, even at rest; a table is formed by teeth that guide")]
    NoTeeth {
        /// The movement tried.
        movement: &'static str,
    },
    /// A size that no table has.
    #[error("{what} is {given}; allowed are {least} to {most} mm")]
    Size {
        /// Which size.
        what: TableSize,
        /// The size given.
        given: f64,
        /// Least allowed.
        least: f64,
        /// Most allowed.
        most: f64,
    },
    /// A grid of more heights than a table may have; told before the net is solved.
    #[error(
        "with a step of {step} mm the table has {heights} heights or more; allowed are up to {most}: a step of {least} mm \
         or more, or a shorter way"
    )]
    TooFine {
        /// The step asked for, in millimetres.
        step: f64,
        /// Heights that the grid would have at the least.
        heights: u64,
        /// Heights that it may have.
        most: usize,
        /// A step that does, in millimetres.
        least: f64,
    },
    /// Heights that are no table.
    #[error("the table formed is none: {0}")]
    Field(#[from] NoHeightField),
    /// A solid that is none.
    #[error("the table cannot be printed: {0}")]
    Surface(#[from] SurfaceError),
}

/// A size that is asked for of a table.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum TableSize {
    /// How far the condyles advance.
    Advance,
    /// From one height of the grid to the next.
    Step,
    /// What the table is wider by than the way of the pin.
    Margin,
    /// Radius of the pin's tip.
    TipRadius,
    /// Thickness of a printed table under its deepest place.
    Thickness,
}

impl fmt::Display for TableSize {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        out.write_str(match self {
            Self::Advance => "the advance",
            Self::Step => "the step",
            Self::Margin => "the margin",
            Self::TipRadius => "the radius of the tip",
            Self::Thickness => "the thickness",
        })
    }
}

/// Refuses a size that no table has.
pub(super) const fn check(what: TableSize, size: Length, least: f64, most: f64) -> Result<(), NoTable> {
    let given = size.mm();
    if given >= least && given <= most { Ok(()) } else { Err(NoTable::Size { what, given, least, most }) }
}
