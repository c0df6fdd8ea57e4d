//! The guided point in front: pin tip or lower incisal edge.

use serde::de::{self, SeqAccess, Visitor};
use serde::{Deserialize, Deserializer, Serialize, Serializer};
use std::fmt;

use nalgebra::Vector3;

use crate::facts::{Checked, Entry, Facts};
use crate::units::{Length, Unit};

/// Place of the incisal point in the zeroed centric position, where both frames coincide.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct IncisalPoint {
    /// In front of the axis.
    pub x: Length,
    /// To the left of the middle.
    pub y: Length,
    /// Above the horizontal reference plane; below it is negative.
    pub z: Length,
}

impl IncisalPoint {
    /// The setting `x`: how far it stands in front of the axis.
    pub const X: Entry<Self> = Entry {
        facts: coordinate("x", "incisal point, in front of the axis", 20.0, 200.0, None),
        get: |point| point.x.mm(),
        set: |point, mm| point.x = Length::from_mm(mm),
    };
    /// The setting `y`: how far it stands left of the middle.
    pub const Y: Entry<Self> = Entry {
        facts: coordinate("y", "incisal point, left of the middle", -60.0, 60.0, Some(0.0)),
        get: |point| point.y.mm(),
        set: |point, mm| point.y = Length::from_mm(mm),
    };
    /// The setting `z`: how far it stands above the reference plane.
    pub const Z: Entry<Self> = Entry {
        facts: coordinate("z", "incisal point, above the reference plane", -150.0, 60.0, None),
        get: |point| point.z.mm(),
        set: |point, mm| point.z = Length::from_mm(mm),
    };

    /// The three coordinates as settings.
    pub const SETTINGS: &'static [Entry<Self>] = &[Self::X, Self::Y, Self::Z];

    /// A point from its coordinates in millimetres: anterior, left, up.
    #[must_use]
    pub const fn mm(x: f64, y: f64, z: f64) -> Self {
        Self { x: Length::from_mm(x), y: Length::from_mm(y), z: Length::from_mm(z) }
    }

    /// The coordinates in millimetres, in either frame.
    #[must_use]
    pub const fn coords(&self) -> Vector3<f64> {
        Vector3::new(self.x.mm(), self.y.mm(), self.z.mm())
    }
}

const fn coordinate(
    key: &'static str,
    label: &'static str,
    min: f64,
    max: f64,
    zeroed: Option<f64>,
) -> Facts {
    let doc = "Coordinate of the pin tip, or of the lower incisal edge, in the zeroed centric position.";
    Facts { key, label, symbol: None, unit: Unit::Millimetre, min, max, step: 1.0, zeroed, doc }
}

impl<'de> Deserialize<'de> for IncisalPoint {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        struct Coordinates;
        impl<'de> Visitor<'de> for Coordinates {
            type Value = IncisalPoint;
            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str("three coordinates in mm: (anterior, left, up)")
            }
            fn visit_seq<A: SeqAccess<'de>>(self, mut seq: A) -> Result<IncisalPoint, A::Error> {
                let mut point = IncisalPoint::mm(0.0, 0.0, 0.0);
                for (index, entry) in IncisalPoint::SETTINGS.iter().enumerate() {
                    let length: Length = seq
                        .next_element_seed(Checked::new(&entry.facts))?
                        .ok_or_else(|| de::Error::invalid_length(index, &self))?;
                    (entry.set)(&mut point, length.mm());
                }
                Ok(point)
            }
        }
        deserializer.deserialize_tuple(3, Coordinates)
    }
}

impl Serialize for IncisalPoint {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        (self.x.mm(), self.y.mm(), self.z.mm()).serialize(serializer)
    }
}
