//! How the rows of a plan hang together.

/// Parts that a table of groups is cut into where each part is to be left out once: more would change
/// an interval by less than one in fifty (Student's quantile of 19 degrees is 2.09, in the end 1.96).
const PARTS: usize = 20;

/// What in a table is drawn independently of the rest: the units that an interval counts.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SampleUnits {
    /// Nothing: the rows were chosen and are no sample of anything.
    Chosen,
    /// Each group of so many rows one after the other; a row by itself where it is 1.
    Groups {
        /// Rows of a group.
        rows: usize,
    },
    /// All the rows of a scrambling; the groups belong to the scramblings in turn.
    Replicates {
        /// Rows of a group.
        rows: usize,
        /// Number of scramblings, 2 or more.
        replicates: usize,
    },
}

impl SampleUnits {
    /// Of groups of so many rows, dealt out to scramblings if there are any.
    ///
    /// Points of a single scrambling have nothing to be compared with, so that they count as if each
    /// were drawn by itself: what stands on that is too wide for them, never too narrow.
    pub(super) const fn of(rows: usize, replicates: Option<u32>) -> Self {
        match replicates {
            Some(replicates @ 2..) => Self::Replicates { rows, replicates: replicates as usize },
            _ => Self::Groups { rows },
        }
    }

    /// Rows of a group: 1 where each stands for itself.
    #[must_use]
    pub const fn group_rows(self) -> usize {
        match self {
            Self::Chosen => 1,
            Self::Groups { rows } | Self::Replicates { rows, .. } => rows,
        }
    }

    /// Number of scramblings, if intervals stand on them.
    #[must_use]
    pub const fn replicates(self) -> Option<usize> {
        match self {
            Self::Replicates { replicates, .. } => Some(replicates),
            Self::Chosen | Self::Groups { .. } => None,
        }
    }

    /// How many parts that are independent of each other a table is cut into, each to be left out once.
    #[must_use]
    pub const fn parts(self) -> usize {
        match self {
            Self::Chosen => 1,
            Self::Groups { .. } => PARTS,
            Self::Replicates { replicates, .. } => replicates,
        }
    }

    /// The part that a row belongs to; groups belong to the parts in turn.
    #[must_use]
    #[allow(clippy::cast_possible_truncation)] // below the number of parts
    pub const fn part_of(self, row: u64) -> usize {
        (row / self.group_rows() as u64 % self.parts() as u64) as usize
    }
}
