//! The patient's right and left, and what there is one of on each side.

use std::fmt;
use std::ops::{Index, IndexMut};

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

/// One thing for each side, indexed by the side.
///
/// ```
/// use sim_core::frame::{PerSide, Side};
/// let outward = PerSide::of(Side::outward_y);
/// assert_eq!((outward[Side::Right], outward[Side::Left]), (-1.0, 1.0));
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub struct PerSide<T> {
    /// What is on the patient's right.
    pub right: T,
    /// What is on the patient's left.
    pub left: T,
}

impl<T> PerSide<T> {
    /// Made for the right, then for the left.
    pub fn of(mut make: impl FnMut(Side) -> T) -> Self {
        Self { right: make(Side::Right), left: make(Side::Left) }
    }
}

impl<T> Index<Side> for PerSide<T> {
    type Output = T;
    #[inline]
    fn index(&self, side: Side) -> &T {
        match side {
            Side::Right => &self.right,
            Side::Left => &self.left,
        }
    }
}

impl<T> IndexMut<Side> for PerSide<T> {
    #[inline]
    fn index_mut(&mut self, side: Side) -> &mut T {
        match side {
            Side::Right => &mut self.right,
            Side::Left => &mut self.left,
        }
    }
}
