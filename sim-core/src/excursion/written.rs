//! An excursion as a scene file writes it: `RightLateral(advance_mm: 6.0)`.

use serde::{Deserialize, Deserializer, Serialize, Serializer, de};

use super::{Drive, Excursion, ExcursionError, Movement, Ratio};
use crate::frame::Side;
use crate::units::{Angle, Length};

#[derive(Serialize, Deserialize)]
#[serde(rename = "Excursion")]
enum WrittenExcursion {
    Protrusive(Straight),
    RightLateral(Straight),
    LeftLateral(Straight),
    RightLateroprotrusive(Oblique),
    LeftLateroprotrusive(Oblique),
    Opening(Hinge),
}

/// One of the three is given.
#[derive(Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct Straight {
    #[serde(default, skip_serializing_if = "Option::is_none")]
    advance_mm: Option<f64>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    tracing_mm: Option<f64>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    incisal_displacement_mm: Option<f64>,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct Oblique {
    ratio: f64,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    advance_mm: Option<f64>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    tracing_mm: Option<f64>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    incisal_displacement_mm: Option<f64>,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct Hinge {
    angle_deg: f64,
}

impl TryFrom<WrittenExcursion> for Excursion {
    type Error = ExcursionError;

    fn try_from(written: WrittenExcursion) -> Result<Self, ExcursionError> {
        match written {
            WrittenExcursion::Protrusive(reach) => reach.driving(Movement::Protrusive),
            WrittenExcursion::RightLateral(reach) => {
                reach.driving(Movement::Lateral { working: Side::Right })
            }
            WrittenExcursion::LeftLateral(reach) => reach.driving(Movement::Lateral { working: Side::Left }),
            WrittenExcursion::RightLateroprotrusive(reach) => reach.to(Side::Right),
            WrittenExcursion::LeftLateroprotrusive(reach) => reach.to(Side::Left),
            WrittenExcursion::Opening(Hinge { angle_deg }) => {
                Self::new(Movement::Opening, Drive::Opening(Angle::from_degrees(angle_deg)))
            }
        }
    }
}

impl Straight {
    fn driving(self, movement: Movement) -> Result<Excursion, ExcursionError> {
        let wrong = |given| ExcursionError::OneDrive { movement: movement.name(), given };
        let drive = match (self.advance_mm, self.tracing_mm, self.incisal_displacement_mm) {
            (Some(mm), None, None) => Drive::Advance(Length::from_mm(mm)),
            (None, Some(mm), None) => Drive::Tracing(Length::from_mm(mm)),
            (None, None, Some(mm)) => Drive::IncisalDisplacement(Length::from_mm(mm)),
            (None, None, None) => return Err(wrong("none")),
            _ => return Err(wrong("more")),
        };
        Excursion::new(movement, drive)
    }
}

impl Oblique {
    fn to(self, working: Side) -> Result<Excursion, ExcursionError> {
        let Self { ratio, advance_mm, tracing_mm, incisal_displacement_mm } = self;
        let movement = Movement::Lateroprotrusive { working, ratio: Ratio::new(ratio)? };
        Straight { advance_mm, tracing_mm, incisal_displacement_mm }.driving(movement)
    }
}

impl From<&Excursion> for WrittenExcursion {
    fn from(excursion: &Excursion) -> Self {
        let straight = match excursion.drive() {
            Drive::Advance(length) => Straight { advance_mm: Some(length.mm()), ..Straight::default() },
            Drive::Tracing(length) => Straight { tracing_mm: Some(length.mm()), ..Straight::default() },
            Drive::IncisalDisplacement(length) => {
                Straight { incisal_displacement_mm: Some(length.mm()), ..Straight::default() }
            }
            Drive::Opening(angle) => return Self::Opening(Hinge { angle_deg: angle.degrees() }),
        };
        match excursion.movement() {
            // An opening is driven by its angle and has been dealt with.
            Movement::Protrusive | Movement::Opening => Self::Protrusive(straight),
            Movement::Lateral { working: Side::Right } => Self::RightLateral(straight),
            Movement::Lateral { working: Side::Left } => Self::LeftLateral(straight),
            Movement::Lateroprotrusive { working, ratio } => {
                let Straight { advance_mm, tracing_mm, incisal_displacement_mm } = straight;
                let oblique = Oblique { ratio: ratio.get(), advance_mm, tracing_mm, incisal_displacement_mm };
                match working {
                    Side::Right => Self::RightLateroprotrusive(oblique),
                    Side::Left => Self::LeftLateroprotrusive(oblique),
                }
            }
        }
    }
}

impl<'de> Deserialize<'de> for Excursion {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        WrittenExcursion::deserialize(deserializer)?.try_into().map_err(de::Error::custom)
    }
}

impl Serialize for Excursion {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        WrittenExcursion::from(self).serialize(serializer)
    }
}
