//! Which excursion a record was taken in.

use serde::{Deserialize, Serialize};

use crate::frame::Side;

/// Which excursion a record was taken in.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
pub enum RecordKind {
    /// A repeat of centric.
    Centric,
    /// Protrusive.
    Protrusive,
    /// Right lateral: the left condyle orbits.
    RightLateral,
    /// Left lateral: the right condyle orbits.
    LeftLateral,
}

impl RecordKind {
    /// `centric`, `protrusive`, `right_lateral` or `left_lateral`.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Centric => "centric",
            Self::Protrusive => "protrusive",
            Self::RightLateral => "right_lateral",
            Self::LeftLateral => "left_lateral",
        }
    }

    /// The name in words, as in `left lateral record`.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::Centric => "centric record",
            Self::Protrusive => "protrusive record",
            Self::RightLateral => "right lateral record",
            Self::LeftLateral => "left lateral record",
        }
    }

    /// The side whose condyle orbits in it; `None` where neither does.
    #[must_use]
    pub const fn orbiting(self) -> Option<Side> {
        match self {
            Self::Centric | Self::Protrusive => None,
            Self::RightLateral => Some(Side::Left),
            Self::LeftLateral => Some(Side::Right),
        }
    }

    /// Whether the superior wall of this side guides its sphere in the record: not on the working side.
    #[must_use]
    pub fn is_guided(self, side: Side) -> bool {
        self.orbiting().is_none_or(|orbiting| orbiting == side)
    }
}

/// A record by its place in the list, counted from 0, as people count: `second record`.
#[must_use]
pub fn nth_record(index: usize) -> String {
    const SPELLED: [&str; 10] =
        ["first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth", "tenth"];
    match SPELLED.get(index) {
        Some(word) => format!("{word} record"),
        None => format!("record number {}", index + 1),
    }
}
