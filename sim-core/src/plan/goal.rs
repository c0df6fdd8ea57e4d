//! The goal of a plan, as a scene's file gives it.

use serde::{Deserialize, Deserializer, Serialize, Serializer, de};

use super::arch::ArchForm;
use super::factor::Factor;
use super::passage::Role;
use super::solve::Unknown;
use crate::cusp::Tooth;
use crate::units::{Angle, Length};

settings_struct! {
    /// What is planned with a scene: the field `plan` of its file.
    pub struct Plan {
        chord as CHORD: Length = "chord_mm", "distance of the chord", 0.1..=20.0, step 0.5, zeroed None, absent 3.0,
            "Condylar advance over which the chord of every path is taken, beside its tangent.";
    }
    also {
        arch: Option<ArchForm> = "arch", absent None,
            "The arch on which the teeth stand; where it is absent, 54 by 42 mm from the incisal point of incisors, from 8 mm behind a pin.";
        tooth_axes: Vec<AxisTip> = "tooth_axes", absent Vec::new(),
            "Teeth whose axis is not square to the occlusal surface.";
        goal: Option<Goal> = "goal", absent None,
            "What is to be reached; required inclines are told in any case.";
    }
}

settings_struct! {
    /// How a tooth's axis leans, beyond square to its occlusal surface.
    #[derive(Copy)]
    pub struct AxisTip {
        forward as FORWARD: Angle = "forward_deg", "forward lean of a tooth's axis", -45.0..=45.0, step 1.0,
            zeroed None, absent 0.0, "How far the upper end of the axis leans forward.";
        outward as OUTWARD: Angle = "outward_deg", "outward lean of a tooth's axis", -45.0..=45.0, step 1.0,
            zeroed None, absent 0.0, "How far the upper end of the axis leans away from the midline.";
    }
    also {
        tooth: Tooth = "tooth", "The tooth.";
    }
}

/// What is to be reached.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub enum Goal {
    /// Contact on both sides and in front in every excursion: complete dentures.
    BalancedArticulation(Balance),
    /// Clearance at chosen cusps: natural teeth.
    Disclusion(Clearances),
}

settings_struct! {
    /// Balanced articulation, and what may be changed for it.
    pub struct Balance {
        cusp_inclination as CUSP_INCLINATION: Angle = "cusp_inclination_deg", "cusp inclination", 0.0..=60.0, step 1.0,
            zeroed None, "Inclination of the cusps to the tooth's own occlusal surface, as it stands.";
        advance as ADVANCE: Length = "advance_mm", "advance at which contact is wanted", 0.1..=20.0, step 0.5,
            zeroed None, absent 3.0, "Condylar advance of each excursion at which contact is wanted.";
    }
    also {
        free: Vec<Free> = "free", absent Vec::new(),
            "What may be changed, within which bounds; cusp inclination from 0° to 60° where nothing is named.";
        teeth: Vec<Tooth> = "teeth", absent Vec::new(),
            "Back teeth at which contact is wanted; the lower ones where none is named.";
        excursions: Vec<Role> = "excursions", absent Vec::new(),
            "Excursions in which it is wanted; all three where none is named.";
    }
}

/// Clearances wanted, and what may be changed for them.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Clearances {
    /// What is wanted where.
    pub clearances: Vec<Wanted>,
    /// How the wants are met; at least when absent.
    #[serde(default)]
    pub by: Meeting,
    /// What may be changed, within which bounds; the plate from 0° to 60° and the wings from 0° to 45°
    /// where nothing is named.
    #[serde(default)]
    pub free: Vec<Free>,
}

/// How clearances are to be met.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default, Serialize, Deserialize)]
pub enum Meeting {
    /// By no less than is wanted, with the least change.
    #[default]
    AtLeast,
    /// As nearly as can be, in the sense of least squares.
    LeastSquares,
}

settings_struct! {
    /// A clearance wanted at the cusps of a tooth.
    pub struct Wanted {
        advance as ADVANCE: Length = "advance_mm", "advance at which a clearance is wanted", 0.1..=20.0, step 0.5,
            zeroed None, absent 3.0, "Condylar advance at which it is wanted.";
        clearance as CLEARANCE: Length = "clearance_mm", "clearance wanted", -5.0..=20.0, step 0.1, zeroed None,
            "Clearance to the opposing inclines.";
    }
    also {
        tooth: Tooth = "tooth", "The tooth.";
        name: Option<String> = "name", absent None, "The cusp; all cusps of the tooth when absent.";
        excursion: Role = "excursion", "Protrusive, Working or Orbiting, as seen from the tooth.";
    }
}

/// A factor that may be changed.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub enum Free {
    /// Horizontal condylar inclination of both sides.
    CondylarGuidance(AngleRange),
    /// Inclination of the plate.
    IncisalGuidance(AngleRange),
    /// Both wings, together.
    LateralIncisalGuidance(AngleRange),
    /// The right wing.
    RightLateralIncisalGuidance(AngleRange),
    /// The left wing.
    LeftLateralIncisalGuidance(AngleRange),
    /// Inclination of the occlusal plane.
    OcclusalPlane(AngleRange),
    /// The sagittal compensating curve.
    CompensatingCurve(CurveRange),
    /// Inclination of the cusps, ground to any angle.
    CuspInclination(AngleRange),
    /// Inclination of the cusps, from a list of moulds.
    CuspMould(Moulds),
}

settings_struct! {
    /// Bounds of an angle.
    #[derive(Copy)]
    pub struct AngleRange {
        least as LEAST: Angle = "least_deg", "least angle allowed", -45.0..=85.0, step 1.0, zeroed None,
            "The least that it may be set to.";
        most as MOST: Angle = "most_deg", "greatest angle allowed", -45.0..=85.0, step 1.0, zeroed None,
            "The most that it may be set to.";
    }
    also {
        weight: Weight = "weight", absent Weight::ONE,
            "What a change of a degree counts, beside others.";
    }
}

settings_struct! {
    /// Bounds of a compensating curve; it may always be flat.
    #[derive(Copy)]
    pub struct CurveRange {
        least_radius as LEAST_RADIUS: Length = "least_radius_mm", "least radius allowed", 60.0..=1000.0, step 10.0,
            zeroed None, absent 60.0, "The tightest that it may be.";
    }
    also {
        weight: Weight = "weight", absent Weight::ONE,
            "What a change counts that tips a tooth 30 mm behind the curve's start by a degree.";
    }
}

/// Cusp inclinations that moulds are made with.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Moulds {
    /// In degrees, 0 to 60.
    pub inclinations_deg: Vec<f64>,
    /// What a change of a degree counts, beside others.
    #[serde(default)]
    pub weight: Weight,
}

/// What a change counts: a positive number.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Weight(f64);

impl Weight {
    /// What counts one.
    pub const ONE: Self = Self(1.0);

    /// A weight, if it is from 0.001 to 1000.
    #[must_use]
    pub fn new(given: f64) -> Option<Self> {
        (0.001..=1000.0).contains(&given).then_some(Self(given))
    }

    /// The number.
    #[must_use]
    pub const fn get(self) -> f64 {
        self.0
    }
}

impl Default for Weight {
    fn default() -> Self {
        Self::ONE
    }
}

impl<'de> Deserialize<'de> for Weight {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let given = f64::deserialize(deserializer)?;
        Self::new(given)
            .ok_or_else(|| de::Error::custom(format!("weight is {given}; allowed are 0.001 to 1000")))
    }
}

impl Serialize for Weight {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        self.0.serialize(serializer)
    }
}

impl Default for Plan {
    /// No goal: required inclines, chords over 3 mm.
    fn default() -> Self {
        Self { chord: Length::from_mm(3.0), arch: None, tooth_axes: Vec::new(), goal: None }
    }
}

impl Balance {
    /// Balance of teeth of 20° at 3 mm of advance, wherever a goal says nothing else.
    #[must_use]
    pub fn usual() -> Self {
        Self {
            cusp_inclination: Angle::from_degrees(20.0),
            advance: Length::from_mm(3.0),
            free: Vec::new(),
            teeth: Vec::new(),
            excursions: Vec::new(),
        }
    }
}

impl Free {
    /// The factor.
    #[must_use]
    pub const fn factor(&self) -> Factor {
        match self {
            Self::CondylarGuidance(_) => Factor::CondylarGuidance,
            Self::IncisalGuidance(_) => Factor::IncisalGuidance,
            Self::LateralIncisalGuidance(_) => Factor::LateralIncisalGuidance,
            Self::RightLateralIncisalGuidance(_) => Factor::RightLateralIncisalGuidance,
            Self::LeftLateralIncisalGuidance(_) => Factor::LeftLateralIncisalGuidance,
            Self::OcclusalPlane(_) => Factor::OcclusalPlane,
            Self::CompensatingCurve(_) => Factor::CompensatingCurve,
            Self::CuspInclination(_) | Self::CuspMould(_) => Factor::CuspInclination,
        }
    }

    /// Its bounds and weight, from where it stands, in degrees.
    pub(super) fn unknown(&self, home: Angle) -> Unknown {
        let (least, most, weight) = match self {
            Self::CondylarGuidance(own)
            | Self::IncisalGuidance(own)
            | Self::LateralIncisalGuidance(own)
            | Self::RightLateralIncisalGuidance(own)
            | Self::LeftLateralIncisalGuidance(own)
            | Self::OcclusalPlane(own)
            | Self::CuspInclination(own) => (own.least.degrees(), own.most.degrees(), own.weight),
            Self::CompensatingCurve(own) => {
                (0.0, ArchForm::tilt_of_radius(own.least_radius).degrees(), own.weight)
            }
            // A mould is taken as it is.
            Self::CuspMould(own) => (home.degrees(), home.degrees(), own.weight),
        };
        Unknown { home: home.degrees(), least, most, weight: weight.get() }
    }
}
