//! Condyles past the lowest point of their arc.

use crate::excursion::Placement;
use crate::frame::Side;
use crate::guide::CondylarGuide;
use crate::instrument::Instrument;

/// Which condyles have passed the lowest point of their arc at a recorded pose and rise again. The
/// definition of an arc allows it; a study that varies radii and inclinations meets it unawares.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ArcPassed {
    /// The right one.
    Right,
    /// The left one.
    Left,
    /// Both.
    Both,
}

impl ArcPassed {
    /// All of them.
    pub const ALL: [Self; 3] = [Self::Right, Self::Left, Self::Both];

    /// As the column `note` of a table has it.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Right => "right_condyle_past_lowest_point_of_arc",
            Self::Left => "left_condyle_past_lowest_point_of_arc",
            Self::Both => "both_condyles_past_lowest_point_of_arc",
        }
    }

    const fn of(right: bool, left: bool) -> Option<Self> {
        match (right, left) {
            (true, true) => Some(Self::Both),
            (true, false) => Some(Self::Right),
            (false, true) => Some(Self::Left),
            (false, false) => None,
        }
    }
}

/// Looks at the poses of one row, one after the other.
#[derive(Clone, Debug)]
pub(super) struct ArcWatch {
    /// Right and left: the advance in millimetres at which the arc is lowest, if it is one.
    lowest_mm: [Option<f64>; 2],
    passed: [bool; 2],
}

impl ArcWatch {
    pub(super) fn new(instrument: &Instrument) -> Self {
        let lowest = |side| instrument.guide(side).lowest_advance().map(|advance| advance.mm());
        Self { lowest_mm: [lowest(Side::Right), lowest(Side::Left)], passed: [false; 2] }
    }

    #[inline]
    pub(super) fn look_at(&mut self, placed: &Placement) {
        let advances = [placed.right.advance.mm(), placed.left.advance.mm()];
        for ((passed, lowest), advance) in self.passed.iter_mut().zip(self.lowest_mm).zip(advances) {
            *passed |= lowest.is_some_and(|lowest| advance > lowest + CondylarGuide::AT_REST_MM);
        }
    }

    pub(super) const fn passed(&self) -> Option<ArcPassed> {
        ArcPassed::of(self.passed[0], self.passed[1])
    }
}
