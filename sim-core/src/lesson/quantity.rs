//! What a lesson can measure, by name.

use std::fmt;

use super::cusp_name::CuspName;
use super::phrase_error::PhraseError;
use crate::frame::Side;
use crate::setting::SettingName;
use crate::units::{Length, Unit};

/// One thing that the program computes.
#[derive(Clone, Debug, PartialEq)]
pub enum Quantity {
    /// Separation at a cusp.
    Separation(CuspName),
    /// Clearance at a cusp.
    Clearance(CuspName),
    /// The incline that a cusp's facet needs to glide in contact.
    NeededIncline(CuspName),
    /// Where a cusp ends from where it should, as the opening at rest is closed about an axis so far off.
    AxisError(CuspName, Length),
    /// How far a condyle has gone down.
    Drop(Side),
    /// How far a condyle has gone forward.
    Advance(Side),
    /// How far a condyle has gone toward the midline.
    MedialShift(Side),
    /// Inclination of a condyle's way from rest, seen from the upper member.
    PathAngle(Side),
    /// The lateral angle by the rule L = H/8 + 12.
    RuleLateralAngle(Side),
    /// The outward shift of the working condyle.
    BennettMovement,
    /// How far the jaw has turned open.
    Turn,
    /// Straight-line way of the incisal point from rest.
    IncisalDisplacement,
    /// How far the incisal point has gone down from rest.
    IncisalDrop,
    /// Way of the incisal point from rest along the occlusal plane.
    TracingDistance,
    /// Angle between the two lateral legs of the tracing.
    ArchAngle,
    /// The value of a setting.
    Setting(SettingName),
    /// How many settings depart from the baseline.
    Departures,
    /// How many of the cusps watched interfere.
    Interferences,
    /// A gap of the split, on the record that the jaw of the lesson's own set-up gave.
    Gap(Gap),
    /// The greatest displacement of a groove between true centric and where the jaw is.
    CentricGap,
}

/// Which gap of the split.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Gap {
    /// The greatest of the two grooves at the back border.
    Posterior,
    /// The greatest of the two grooves by the lateral incisors.
    Anterior,
    /// The greatest of all six.
    Widest,
}

/// What stands behind the name.
#[derive(Clone, Copy)]
enum Takes {
    Nothing(fn() -> Quantity),
    Cusp(fn(CuspName) -> Quantity),
    Side(fn(Side) -> Quantity),
    Setting,
    AxisOff,
}

use Takes::{AxisOff, Cusp, Nothing, Side as OfSide};

const NAMES: [(&str, Takes, &str); 22] = [
    ("separation", Cusp(Quantity::Separation), "separation 36 mesiobuccal"),
    ("clearance", Cusp(Quantity::Clearance), "clearance 36 mesiobuccal"),
    ("needed incline", Cusp(Quantity::NeededIncline), "needed incline 36 mesiobuccal"),
    ("axis error", AxisOff, "axis error 37 mesiobuccal off 5 mm"),
    ("drop", OfSide(Quantity::Drop), "drop left"),
    ("advance", OfSide(Quantity::Advance), "advance left"),
    ("medial shift", OfSide(Quantity::MedialShift), "medial shift left"),
    ("path angle", OfSide(Quantity::PathAngle), "path angle left"),
    ("rule lateral angle", OfSide(Quantity::RuleLateralAngle), "rule lateral angle left"),
    ("bennett movement", Nothing(|| Quantity::BennettMovement), "bennett movement"),
    ("turn", Nothing(|| Quantity::Turn), "turn"),
    ("incisal displacement", Nothing(|| Quantity::IncisalDisplacement), "incisal displacement"),
    ("incisal drop", Nothing(|| Quantity::IncisalDrop), "incisal drop"),
    ("tracing distance", Nothing(|| Quantity::TracingDistance), "tracing distance"),
    ("arch angle", Nothing(|| Quantity::ArchAngle), "arch angle"),
    ("setting", Takes::Setting, "setting left_guide.horizontal_inclination_deg"),
    ("departures", Nothing(|| Quantity::Departures), "departures"),
    ("interferences", Nothing(|| Quantity::Interferences), "interferences"),
    ("posterior gap", Nothing(|| Quantity::Gap(Gap::Posterior)), "posterior gap"),
    ("anterior gap", Nothing(|| Quantity::Gap(Gap::Anterior)), "anterior gap"),
    ("widest gap", Nothing(|| Quantity::Gap(Gap::Widest)), "widest gap"),
    ("centric gap", Nothing(|| Quantity::CentricGap), "centric gap"),
];

impl Quantity {
    /// Every quantity as it is written, with an example of what stands behind it.
    pub fn examples() -> impl Iterator<Item = &'static str> {
        NAMES.iter().map(|(_, _, example)| *example)
    }

    /// Reads one.
    pub(super) fn parse(words: &[&str]) -> Result<Self, PhraseError> {
        let given = words.join(" ");
        let named = NAMES.iter().find(|(name, ..)| {
            let mut name_words = name.split(' ');
            let count = name_words.clone().count();
            words.len() >= count && words.iter().take(count).all(|word| name_words.next() == Some(*word))
        });
        let Some((name, takes, example)) = named else {
            let near = crate::setting::Near::to(&given, NAMES.iter().map(|(name, ..)| (*name).to_owned()));
            return Err(PhraseError::NoSuchQuantity { given, near });
        };
        let rest = words.get(name.split(' ').count()..).unwrap_or_default();
        let wrong = || PhraseError::Behind { given: given.clone(), example };
        match takes {
            Nothing(make) if rest.is_empty() => Ok(make()),
            Nothing(_) => Err(wrong()),
            OfSide(make) => match rest {
                ["right"] => Ok(make(Side::Right)),
                ["left"] => Ok(make(Side::Left)),
                _ => Err(wrong()),
            },
            Cusp(make) if !rest.is_empty() => Ok(make(CuspName::parse(rest)?)),
            Cusp(_) => Err(wrong()),
            Takes::Setting => match rest {
                [name] => Ok(Self::Setting(name.parse().map_err(PhraseError::Setting)?)),
                _ => Err(wrong()),
            },
            AxisOff => {
                let off = rest.iter().position(|word| *word == "off").ok_or_else(wrong)?;
                let (cusp, off) = rest.split_at(off);
                let mm = match off {
                    [_, mm, "mm"] => mm.parse().ok().filter(|mm: &f64| *mm >= 0.0 && *mm <= MOST_OFF_MM),
                    _ => None,
                };
                let mm = mm.ok_or_else(wrong)?;
                if cusp.is_empty() {
                    return Err(wrong());
                }
                Ok(Self::AxisError(CuspName::parse(cusp)?, Length::from_mm(mm)))
            }
        }
    }

    /// The unit of its number; none for a count.
    #[must_use]
    pub const fn unit(&self) -> Option<Unit> {
        match self {
            Self::NeededIncline(_)
            | Self::PathAngle(_)
            | Self::RuleLateralAngle(_)
            | Self::Turn
            | Self::ArchAngle => Some(Unit::Degree),
            Self::Setting(name) => Some(name.facts().unit),
            Self::Departures | Self::Interferences => None,
            Self::Separation(_)
            | Self::Clearance(_)
            | Self::AxisError(..)
            | Self::Drop(_)
            | Self::Advance(_)
            | Self::MedialShift(_)
            | Self::BennettMovement
            | Self::IncisalDisplacement
            | Self::IncisalDrop
            | Self::TracingDistance
            | Self::Gap(_)
            | Self::CentricGap => Some(Unit::Millimetre),
        }
    }
}

/// An axis farther off is no error of mounting.
const MOST_OFF_MM: f64 = 30.0;

impl fmt::Display for Gap {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Posterior => "posterior gap",
            Self::Anterior => "anterior gap",
            Self::Widest => "widest gap",
        })
    }
}
