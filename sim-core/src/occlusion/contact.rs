//! Contacts of a pose, each called what it is in its excursion.

use super::Mounted;
use crate::cast::Nearest;
use crate::cusp::Tooth;
use crate::excursion::{CondyleReading, Movement, Placement};
use crate::frame::Side;
use crate::units::Length;

/// What a contact is called in the excursion that makes it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum ContactKind {
    /// With both condyles seated.
    Centric,
    /// While both condyles advance.
    Protrusive,
    /// On the side that the jaw moves to.
    Working,
    /// On the side whose condyle orbits.
    Orbiting,
}

impl ContactKind {
    /// What a contact on one side of the arch is called. Away from rest a hinge opening has none but
    /// centric contacts: its condyles are seated.
    #[must_use]
    pub fn of(movement: Movement, placement: &Placement, side: Side) -> Self {
        let seated = CondyleReading::default();
        if placement.right == seated && placement.left == seated {
            Self::Centric
        } else {
            Self::away(movement, side)
        }
    }

    /// What it is called once the jaw has left rest.
    pub(super) fn away(movement: Movement, side: Side) -> Self {
        match movement {
            Movement::Opening => Self::Centric,
            Movement::Protrusive => Self::Protrusive,
            Movement::Lateral { working } | Movement::Lateroprotrusive { working, .. } => {
                if side == working {
                    Self::Working
                } else {
                    Self::Orbiting
                }
            }
        }
    }

    /// `centric`, `protrusive`, `working` or `orbiting`.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Centric => "centric",
            Self::Protrusive => "protrusive",
            Self::Working => "working",
            Self::Orbiting => "orbiting",
        }
    }
}

/// A pair of teeth that touch, or pass through each other.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Contact {
    /// What it is called.
    pub kind: ContactKind,
    /// The teeth, the place, and how near they come: the true distance, below zero where they pierce
    /// each other.
    pub nearest: Nearest,
}

impl Contact {
    /// How deep the teeth are in each other, square to the surface; zero where they only touch.
    #[must_use]
    pub fn depth(&self) -> Length {
        Length::from_mm((-self.nearest.gap.mm()).max(0.0))
    }
}

/// The side of the arch that a pair of teeth is on: the upper tooth's, since the upper arch stays;
/// the lower one's where the upper tooth cannot be told, and where neither can, that of the place.
pub(super) fn side_of(nearest: &Nearest) -> Side {
    let by_place = if nearest.upper.y() < 0.0 { Side::Right } else { Side::Left };
    side_of_teeth(nearest.upper_tooth, nearest.lower_tooth).unwrap_or(by_place)
}

/// The same, where only the teeth are known.
pub(super) fn side_of_teeth(upper: Option<Tooth>, lower: Option<Tooth>) -> Option<Side> {
    upper.or(lower).map(Tooth::side)
}

impl Mounted {
    /// The pairs of teeth that come within a film's thickness of each other in a placement of a
    /// movement, one contact for each pair, in the order of upper and then lower tooth. What belongs
    /// to no tooth comes first.
    #[must_use]
    pub fn contacts(&self, movement: Movement, placement: &Placement, film: Length) -> Vec<Contact> {
        let found = self.casts.distances(&placement.jaw, self.plane, film, |_, _| true);
        let contact =
            |nearest| Contact { kind: ContactKind::of(movement, placement, side_of(&nearest)), nearest };
        found.into_iter().map(contact).collect()
    }
}
