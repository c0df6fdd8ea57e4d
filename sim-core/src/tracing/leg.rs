//! The three legs.

use std::fmt;

/// A leg of a tracing.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Leg {
    /// Drawn in protrusion: the middle one, running backward.
    Protrusive,
    /// Drawn in right lateral excursion: on the left of the plate.
    RightLateral,
    /// Drawn in left lateral excursion: on the right of the plate.
    LeftLateral,
}

impl Leg {
    /// All three, in the order of every list.
    pub const ALL: [Self; 3] = [Self::Protrusive, Self::RightLateral, Self::LeftLateral];

    /// The two whose meeting is the apex.
    pub const LATERAL: [Self; 2] = [Self::RightLateral, Self::LeftLateral];

    /// The word that files have for it.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Protrusive => "protrusive",
            Self::RightLateral => "right_lateral",
            Self::LeftLateral => "left_lateral",
        }
    }

    /// Its name for people.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::Protrusive => "protrusive leg",
            Self::RightLateral => "right lateral leg",
            Self::LeftLateral => "left lateral leg",
        }
    }

    /// The leg of that name in a file.
    #[must_use]
    pub fn named(name: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|leg| leg.name() == name)
    }

    /// The sign of `left` on its side of the plate; +1 for the protrusive leg, whose angle is
    /// counted to the left.
    #[must_use]
    pub const fn side_of_plate(self) -> f64 {
        match self {
            Self::Protrusive | Self::RightLateral => 1.0,
            Self::LeftLateral => -1.0,
        }
    }

    /// Its place in [`Self::ALL`].
    pub(super) const fn index(self) -> usize {
        self as usize
    }
}

impl fmt::Display for Leg {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(self.words())
    }
}
