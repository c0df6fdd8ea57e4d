//! The unit that a file's coordinates are in, which most formats for meshes do not say.

use std::fmt;

use serde::{Deserialize, Serialize};

/// The unit of a scan's coordinates.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub enum CastUnit {
    /// What most scanners write.
    Millimetre,
    /// 10 mm.
    Centimetre,
    /// 1000 mm.
    Metre,
    /// 25.4 mm.
    Inch,
}

/// A cast's greatest extent, least and most, in millimetres: from a few teeth on one side to a whole
/// arch on a tall base. An arch is some 35 to 90 mm wide and deep (common practice, no source).
pub const CAST_EXTENT_MM: (f64, f64) = (25.0, 150.0);

/// Why no unit can be told from the size.
#[derive(Clone, Copy, Debug, PartialEq, thiserror::Error)]
pub enum UnitUnclear {
    /// Too large or too small in every unit.
    #[error(
        "the cast is {} in the file's unit, which is no size of a cast in millimetres, centimetres, metres \
         or inches (greatest extent {} to {} mm); give the unit: Millimetre, Centimetre, Metre or Inch",
        By(.extents), CAST_EXTENT_MM.0, CAST_EXTENT_MM.1
    )]
    NoSize {
        /// Extents along the three axes, in the file's unit.
        extents: [f64; 3],
    },
    /// A cast's size in two units.
    #[error(
        "the cast is {} in the file's unit, which could be {} or {}; give the unit: {one:?} or {other:?}",
        By(.extents), .one.several(), .other.several()
    )]
    TwoSizes {
        /// Extents along the three axes, in the file's unit.
        extents: [f64; 3],
        /// One unit that fits.
        one: CastUnit,
        /// The other.
        other: CastUnit,
    },
}

impl CastUnit {
    /// Every unit.
    pub const ALL: [Self; 4] = [Self::Millimetre, Self::Centimetre, Self::Metre, Self::Inch];

    /// How many millimetres one of it is. The inch is exactly 25.4 mm by definition.
    #[must_use]
    pub const fn mm(self) -> f64 {
        match self {
            Self::Millimetre => 1.0,
            Self::Centimetre => 10.0,
            Self::Metre => 1000.0,
            Self::Inch => 25.4,
        }
    }

    /// Whether extents in this unit are those of a cast.
    #[must_use]
    pub fn fits(self, extents: [f64; 3]) -> bool {
        let greatest_mm = extents.into_iter().fold(0.0, f64::max) * self.mm();
        (CAST_EXTENT_MM.0..=CAST_EXTENT_MM.1).contains(&greatest_mm)
    }

    /// The unit in which extents along the three axes are those of a cast: millimetres where they
    /// fit, else the only other one that does.
    ///
    /// # Errors
    /// [`UnitUnclear`] where none fits, or two others do.
    pub fn of_extents(extents: [f64; 3]) -> Result<Self, UnitUnclear> {
        let mut fitting = Self::ALL.into_iter().filter(|unit| unit.fits(extents));
        match (fitting.next(), fitting.next()) {
            (None, _) => Err(UnitUnclear::NoSize { extents }),
            (Some(one), Some(other)) if one != Self::Millimetre => {
                Err(UnitUnclear::TwoSizes { extents, one, other })
            }
            (Some(unit), _) => Ok(unit),
        }
    }

    /// Its name in the plural.
    #[must_use]
    pub const fn several(self) -> &'static str {
        match self {
            Self::Millimetre => "millimetres",
            Self::Centimetre => "centimetres",
            Self::Metre => "metres",
            Self::Inch => "inches",
        }
    }
}

impl fmt::Display for CastUnit {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.several())
    }
}

/// Three extents in words.
struct By<'e>(&'e [f64; 3]);

impl fmt::Display for By<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let [x, y, z] = self.0.map(rounded);
        write!(f, "{x} by {y} by {z}")
    }
}

/// To four significant digits.
fn rounded(number: f64) -> f64 {
    format!("{number:.3e}").parse().unwrap_or(number)
}
