//! The patient's right and left.

use std::fmt;

/// A side of the patient.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Side {
    /// The patient's right, y < 0.
    Right,
    /// The patient's left, y > 0.
    Left,
}

impl Side {
    /// Right, then left: the order of every list that has both.
    pub const BOTH: [Self; 2] = [Self::Right, Self::Left];

    /// The other side.
    #[must_use]
    pub const fn opposite(self) -> Self {
        match self {
            Self::Right => Self::Left,
            Self::Left => Self::Right,
        }
    }

    /// The sign of `y` on this side: −1 on the right, +1 on the left.
    #[must_use]
    pub const fn outward_y(self) -> f64 {
        match self {
            Self::Right => -1.0,
            Self::Left => 1.0,
        }
    }

    /// `right` or `left`.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Right => "right",
            Self::Left => "left",
        }
    }
}

impl fmt::Display for Side {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(self.name())
    }
}
