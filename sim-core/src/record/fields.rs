//! Lengths and points as a case file holds them.

use serde::{Deserialize, Deserializer, Serialize, Serializer, de};

use crate::frame::{ScanPoint, Side};
use crate::units::Length;

/// A finite length that a case file holds as a bare number of millimetres, within ±1,000.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Millimetres(f64);

/// A point of the scan as a case file holds it: three finite coordinates in millimetres.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ScanPlace(ScanPoint);

/// A number for each side.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SideFields {
    /// Of the right guide.
    pub right: Millimetres,
    /// Of the left guide.
    pub left: Millimetres,
}

impl Default for SideFields {
    fn default() -> Self {
        Self { right: Millimetres(0.0), left: Millimetres(0.0) }
    }
}

impl SideFields {
    /// The length of one side.
    #[must_use]
    pub const fn of(&self, side: Side) -> Length {
        match side {
            Side::Right => self.right.length(),
            Side::Left => self.left.length(),
        }
    }
}

/// No scan, instrument or patient reaches farther from its origin.
const FARTHEST_MM: f64 = 1000.0;

impl Millimetres {
    /// A length, if it is finite and within ±1,000 mm.
    #[must_use]
    pub fn new(length: Length) -> Option<Self> {
        (length.mm().abs() <= FARTHEST_MM).then_some(Self(length.mm()))
    }

    /// A length written in the code, which is within bounds.
    pub(super) const fn of_mm(mm: f64) -> Self {
        Self(mm)
    }

    /// The length.
    #[must_use]
    pub const fn length(self) -> Length {
        Length::from_mm(self.0)
    }
}

impl ScanPlace {
    /// A point, if its coordinates are finite and within ±1,000 mm.
    #[must_use]
    pub fn new(point: ScanPoint) -> Option<Self> {
        point.coords().iter().all(|coordinate| coordinate.abs() <= FARTHEST_MM).then_some(Self(point))
    }

    /// The point.
    #[must_use]
    pub const fn point(self) -> ScanPoint {
        self.0
    }
}

impl<'de> Deserialize<'de> for Millimetres {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let given = f64::deserialize(deserializer)?;
        Self::new(Length::from_mm(given)).ok_or_else(|| {
            de::Error::custom(format!("{given} is given; allowed are numbers within ±{FARTHEST_MM} mm"))
        })
    }
}

impl Serialize for Millimetres {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        self.0.serialize(serializer)
    }
}

impl<'de> Deserialize<'de> for ScanPlace {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let (x, y, z) = <(f64, f64, f64)>::deserialize(deserializer)?;
        Self::new(ScanPoint::mm(x, y, z)).ok_or_else(|| {
            de::Error::custom(format!(
                "({x}, {y}, {z}) is given; allowed are coordinates within ±{FARTHEST_MM} mm"
            ))
        })
    }
}

impl Serialize for ScanPlace {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        (self.0.x(), self.0.y(), self.0.z()).serialize(serializer)
    }
}
