//! Points on the plate, and the tracing that an instrument draws.

use nalgebra::Vector2;

use super::Leg;
use crate::units::Length;

/// A point on the plate, relative to where the stylus stands at rest.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PlatePoint {
    /// Toward the patient's front.
    pub forward: Length,
    /// Toward the patient's left.
    pub left: Length,
}

impl PlatePoint {
    /// Where the stylus stands at rest.
    pub const APEX: Self = Self { forward: Length::ZERO, left: Length::ZERO };
}

/// The three legs of a tracing, each from the apex outward.
///
/// The plate goes with the jaw, so the stylus marks it behind the apex as the jaw protrudes, and
/// on its left as the jaw moves to the right.
#[derive(Clone, Debug, PartialEq)]
pub struct Tracing {
    /// Drawn in protrusion.
    pub protrusive: Vec<PlatePoint>,
    /// Drawn in right lateral excursion.
    pub right_lateral: Vec<PlatePoint>,
    /// Drawn in left lateral excursion.
    pub left_lateral: Vec<PlatePoint>,
}

impl PlatePoint {
    /// A point from its coordinates in millimetres.
    #[must_use]
    pub const fn mm(forward: f64, left: f64) -> Self {
        Self { forward: Length::from_mm(forward), left: Length::from_mm(left) }
    }

    /// Straight-line distance to another point.
    #[must_use]
    pub fn distance(&self, other: &Self) -> Length {
        Length::from_mm((self.vector() - other.vector()).norm())
    }

    /// (forward, left) in millimetres.
    pub(super) const fn vector(&self) -> Vector2<f64> {
        Vector2::new(self.forward.mm(), self.left.mm())
    }

    /// From (forward, left) in millimetres.
    pub(super) fn from_vector(vector: Vector2<f64>) -> Self {
        Self::mm(vector.x, vector.y)
    }
}

impl Tracing {
    /// The points of one leg, the apex first.
    #[must_use]
    pub fn leg(&self, leg: Leg) -> &[PlatePoint] {
        match leg {
            Leg::Protrusive => &self.protrusive,
            Leg::RightLateral => &self.right_lateral,
            Leg::LeftLateral => &self.left_lateral,
        }
    }
}
