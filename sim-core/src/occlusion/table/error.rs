//! Why no table can be formed.

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
        /// Which size, as a scene or a command line would name it.
        what: &'static str,
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

/// Refuses a size that no table has.
pub(super) const fn check(what: &'static str, size: Length, least: f64, most: f64) -> Result<(), NoTable> {
    let given = size.mm();
    if given >= least && given <= most { Ok(()) } else { Err(NoTable::Size { what, given, least, most }) }
}
