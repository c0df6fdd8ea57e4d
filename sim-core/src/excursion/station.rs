//! The one parameter of a movement's path.

use crate::units::Length;

/// A place on the path of a movement.
///
/// From rest a path runs first through the immediate lateral translation, made sideways before any
/// advance, where the movement starts with one; then through the advance of the orbiting condyle (of
/// both, in protrusion). Stations are ordered so.
///
/// ```
/// use sim_core::excursion::Station;
/// use sim_core::units::Length;
/// let halfway_sideways = Station::sideways(0.5);
/// let shifted = Station::advanced(Length::ZERO);
/// assert!(Station::REST < halfway_sideways && halfway_sideways < shifted);
/// assert!(halfway_sideways.is_before_advance() && !shifted.is_before_advance());
/// assert_eq!(halfway_sideways.parameter(), -0.5);
/// assert_eq!(Station::from_parameter(4.0), Station::advanced(Length::from_mm(4.0)));
/// ```
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct Station {
    // Stands first, since the sideways move comes first.
    shifted: f64,
    advance: Length,
}

impl Station {
    /// At rest, before any movement.
    pub const REST: Self = Self { shifted: 0.0, advance: Length::ZERO };

    /// Where the orbiting condyle has advanced so far; a lateral movement has made its immediate
    /// translation by then.
    #[must_use]
    pub const fn advanced(advance: Length) -> Self {
        Self { shifted: 1.0, advance }
    }

    /// Within the pure sideways move that a lateral movement starts with where there is immediate
    /// translation: a part, 0 to 1, of it.
    #[must_use]
    pub const fn sideways(part: f64) -> Self {
        Self { shifted: part.clamp(0.0, 1.0), advance: Length::ZERO }
    }

    /// The station of a path laid out on one axis: from −1, which is rest, to 0 the sideways move, and
    /// from 0 on the advance in millimetres.
    #[must_use]
    pub fn from_parameter(parameter: f64) -> Self {
        if parameter < 0.0 {
            Self::sideways(1.0 + parameter)
        } else {
            Self::advanced(Length::from_mm(parameter))
        }
    }

    /// Where the station lies on the axis of [`Self::from_parameter`].
    #[must_use]
    pub fn parameter(self) -> f64 {
        if self.is_before_advance() { self.shifted - 1.0 } else { self.advance.mm() }
    }

    /// Advance of the orbiting condyle (of both, in protrusion).
    #[must_use]
    pub const fn advance(self) -> Length {
        self.advance
    }

    /// How much of the immediate lateral translation has been made, 0 to 1.
    #[must_use]
    pub const fn shifted(self) -> f64 {
        self.shifted
    }

    /// Whether it is rest or lies within the sideways move.
    #[must_use]
    pub fn is_before_advance(self) -> bool {
        self.shifted < 1.0
    }
}
