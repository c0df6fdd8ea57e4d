//! Which number is taken apart.

use crate::excursion::NoPose;
use crate::frame::Side;
use crate::units::Unit;

/// A number that is read at a pose. Cusps are named by their place in the scene's list.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Number {
    /// Separation of a cusp.
    Separation(usize),
    /// Clearance of a cusp.
    Clearance(usize),
    /// How far the incisal point is from where it stands at rest, in a straight line.
    IncisalDisplacement,
    /// How far the jaw is rotated open ([`Placement::opening`](crate::excursion::Placement::opening)).
    Opening,
    /// Advance of a condyle.
    Advance(Side),
    /// Medial shift of a condyle; of the working one it is the Bennett movement with its sign turned.
    Medial(Side),
    /// Drop of a condyle.
    Drop(Side),
}

impl Number {
    /// The unit it is counted in.
    #[must_use]
    pub const fn unit(self) -> Unit {
        match self {
            Self::Opening => Unit::Degree,
            _ => Unit::Millimetre,
        }
    }

    /// The cusp it is read at, by its place in the scene's list.
    #[must_use]
    pub const fn cusp(self) -> Option<usize> {
        match self {
            Self::Separation(cusp) | Self::Clearance(cusp) => Some(cusp),
            _ => None,
        }
    }

    /// `separation`, `clearance`, `incisal_displacement`, `opening`, `right_advance`, …: the word that output
    /// for other programs uses.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Separation(_) => "separation",
            Self::Clearance(_) => "clearance",
            Self::IncisalDisplacement => "incisal_displacement",
            Self::Opening => "opening",
            Self::Advance(Side::Right) => "right_advance",
            Self::Advance(Side::Left) => "left_advance",
            Self::Medial(Side::Right) => "right_medial",
            Self::Medial(Side::Left) => "left_medial",
            Self::Drop(Side::Right) => "right_drop",
            Self::Drop(Side::Left) => "left_drop",
        }
    }

    /// The numbers of a pose that belong to no cusp.
    pub const WITHOUT_CUSP: [Self; 8] = [
        Self::IncisalDisplacement,
        Self::Opening,
        Self::Advance(Side::Right),
        Self::Advance(Side::Left),
        Self::Medial(Side::Right),
        Self::Medial(Side::Left),
        Self::Drop(Side::Right),
        Self::Drop(Side::Left),
    ];
}

/// Why there is no account of a number.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum NoAccount {
    /// The scene lists fewer cusps.
    #[error("the scene has {count} cusps; there is none of the number {}", .place + 1)]
    NoCusp {
        /// The place asked for, counted from 0.
        place: usize,
        /// How many the scene lists.
        count: usize,
    },
    /// The instrument has no pose at rest, from which movements are counted.
    #[error("at rest: {0}")]
    NoRest(#[from] NoPose),
}
