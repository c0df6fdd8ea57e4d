//! A case: a patient's records as their file gives them.

use serde::{Deserialize, Deserializer, Serialize, Serializer, de};

use super::mounting::MountingRecord;
use super::registration::{FEWEST_LANDMARKS, ScanMotion};
use super::split_cast::USUAL_TOLERANCE_MM;
use crate::anterior::AnteriorGuide;
use crate::cast::CastUnit;
use crate::cusp::{OpposingInclines, Tooth};
use crate::frame::ScanPoint;
use crate::instrument::Design;
use crate::plan::Plan;
use crate::text::{self, ReadError};
use crate::units::{Angle, Length};

/// A patient's records.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Case {
    /// What the case is called.
    pub title: String,
    /// Which member of the instrument to be set carries the spheres.
    pub design: Design,
    /// Distance between the instrument's sphere centres; taken from the axis points when absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub intercondylar_distance_mm: Option<Millimetres>,
    /// How the casts were related to the axis.
    pub mounting: MountingFields,
    /// Landmarks of the lower cast in centric, and how exactly they were measured.
    pub lower_landmarks: LandmarkFields,
    /// The records, in the order taken.
    pub records: Vec<RecordFields>,
    /// Immediate lateral translation of each side, subtracted before L; none when absent.
    #[serde(default)]
    pub immediate_translation_mm: SideFields,
    /// The largest gap that confirms the centric record; 0.1 mm when absent.
    #[serde(default = "usual_tolerance")]
    pub split_cast_tolerance_mm: Millimetres,
    /// Where the misfit is read; the landmarks when absent. Six grooves are named in the order back
    /// right, back left, first molar right, left, lateral incisor right, left.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub split_cast_grooves_mm: Option<Vec<ScanPlace>>,
    /// Lower incisal point in centric, which the scene's anterior guide guides. When absent it is
    /// the `incisal_mm` of an average mounting, else the foremost landmark, with a warning.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub incisal_point_mm: Option<ScanPlace>,
    /// Three points of the occlusal plane, not in one line, whose inclination the scene takes. When
    /// absent: level for an average mounting, whose reference plane it is, else 10° with the
    /// anterior edge down.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub occlusal_plane_mm: Option<Vec<ScanPlace>>,
    /// Cusps that the scene watches; none when absent.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub cusps: Vec<CuspPlace>,
    /// The scene's anterior guide; a level table when absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub anterior_guide: Option<AnteriorGuide>,
    /// What sets the scene's incisal table in place of `anterior_guide`; not both.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub incisal_guidance: Option<IncisalGuidance>,
    /// The scanned casts, in the case's own coordinates with the jaw in centric; the scene carries
    /// them on with the mounting of the case.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub casts: Option<CaseCasts>,
    /// What is planned on the programmed instrument, as a scene's `plan`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub plan: Option<Plan>,
}

/// The files of a case's scanned casts (STL, PLY or OBJ), from the case's own folder.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, rename = "Casts")]
pub struct CaseCasts {
    /// The upper cast.
    pub upper: String,
    /// The lower cast, in centric.
    pub lower: String,
    /// Unit of the files' coordinates; told from their size when absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub unit: Option<CastUnit>,
}

/// What an incisal table is set from: the overlap of the incisors for the plate, the canines or the
/// lateral records for the wings.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct IncisalGuidance {
    /// Vertical overlap of the incisors, square to the occlusal plane.
    pub vertical_overlap_mm: Millimetres,
    /// Horizontal overlap of the incisors, along the occlusal plane.
    pub horizontal_overlap_mm: Millimetres,
    /// Guidance of the right canine, which the *left* wing of the table gives: in a right lateral
    /// movement the pin runs up that one. When absent, `wings_from_records` decides.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub right_canine: Option<CanineGuidance>,
    /// Guidance of the left canine, which the right wing of the table gives.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub left_canine: Option<CanineGuidance>,
    /// Whether a wing without a canine is set from the lateral records (for records made with the
    /// teeth in contact); level when false or absent.
    #[serde(default)]
    pub wings_from_records: bool,
}

/// A canine's guidance, read at the incisal pin.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct CanineGuidance {
    /// How far the pin rises from the plate.
    pub rise_mm: Millimetres,
    /// How far it has run outward by then.
    pub outward_mm: Millimetres,
}

/// A cusp as a case file gives it: as in a scene, but its tip in scan coordinates.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, rename = "Cusp")]
pub struct CuspPlace {
    /// The tooth.
    pub tooth: Tooth,
    /// Its name on that tooth.
    pub name: String,
    /// Its tip; of a lower tooth as seen in centric.
    pub at_mm: ScanPlace,
    /// What opposes it.
    pub opposing: OpposingInclines,
}

/// A finite length that a case file holds as a bare number of millimetres, within ±1,000.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Millimetres(f64);

/// A point of the scan as a case file holds it: three finite coordinates in millimetres.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ScanPlace(ScanPoint);

/// Landmarks as a case file gives them.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct LandmarkFields {
    /// The landmarks in the tentative centric position: at least three, not in one line.
    pub in_centric_mm: Vec<ScanPlace>,
    /// Standard deviation of each coordinate of a landmark, in every list.
    pub sd_mm: Millimetres,
}

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

/// A mounting as a case file gives it.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, rename = "Mounting")]
pub enum MountingFields {
    /// By a face-bow.
    FaceBow {
        /// Right end of the axis.
        right_axis_mm: ScanPlace,
        /// Left end of the axis.
        left_axis_mm: ScanPlace,
        /// Anterior reference point.
        anterior_reference_mm: ScanPlace,
    },
    /// By averages.
    Average {
        /// Balkwill angle in degrees.
        balkwill_deg: f64,
        /// Arm of Bonwill's triangle.
        arm_mm: Millimetres,
        /// Incisal point.
        incisal_mm: ScanPlace,
        /// Occlusal plane at the right molars.
        right_molar_mm: ScanPlace,
        /// Occlusal plane at the left molars.
        left_molar_mm: ScanPlace,
    },
}

/// One record as a case file gives it: by landmarks or by a matrix.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, rename = "Record")]
pub enum RecordFields {
    /// A repeat of the centric record.
    Centric(PoseFields),
    /// A protrusive record.
    Protrusive(PoseFields),
    /// A right lateral record, which sets the left guide.
    RightLateral(PoseFields),
    /// A left lateral record, which sets the right guide.
    LeftLateral(PoseFields),
}

/// The pose of a record: exactly one of the fields.
#[derive(Clone, Debug, PartialEq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PoseFields {
    /// The landmarks seen in the record, in the order of `in_centric_mm`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub lower_landmarks_mm: Option<Vec<ScanPlace>>,
    /// The motion of the lower cast from centric, four rows in scan coordinates.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub transform: Option<[[f64; 4]; 4]>,
    /// Of a centric repeat only: the vertical gap at each groove of `split_cast_grooves_mm`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub groove_gaps_mm: Option<Vec<f64>>,
}

/// Which excursion a record was taken in.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
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
}

impl RecordFields {
    /// Which excursion the record was taken in.
    #[must_use]
    pub const fn kind(&self) -> RecordKind {
        match self {
            Self::Centric(_) => RecordKind::Centric,
            Self::Protrusive(_) => RecordKind::Protrusive,
            Self::RightLateral(_) => RecordKind::RightLateral,
            Self::LeftLateral(_) => RecordKind::LeftLateral,
        }
    }

    /// The pose it gives.
    #[must_use]
    pub const fn pose(&self) -> &PoseFields {
        match self {
            Self::Centric(pose)
            | Self::Protrusive(pose)
            | Self::RightLateral(pose)
            | Self::LeftLateral(pose) => pose,
        }
    }
}

/// What makes a case senseless although each of its fields is in range.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum SenselessCase {
    /// Nothing to read.
    #[error("records is empty; give at least a protrusive or a lateral record")]
    NoRecord,
    /// Too few landmarks.
    #[error("in_centric_mm has {given} landmarks; at least {FEWEST_LANDMARKS}, not in one line, are needed")]
    TooFew {
        /// Number given.
        given: usize,
    },
    /// A list of another length.
    #[error(
        "records[{index}] ({kind}) has {given} landmarks, in_centric_mm has {expected}; the same ones in the same order are needed"
    )]
    Unmatched {
        /// Its place in the list, from 0.
        index: usize,
        /// What was recorded.
        kind: &'static str,
        /// Number given.
        given: usize,
        /// Number expected.
        expected: usize,
    },
    /// No pose, or more than one.
    #[error(
        "records[{index}] ({kind}) gives its pose {given} times; give one of lower_landmarks_mm and transform{gaps}"
    )]
    OnePose {
        /// Its place in the list, from 0.
        index: usize,
        /// What was recorded.
        kind: &'static str,
        /// How many of the fields are given.
        given: usize,
        /// What else a centric repeat may give.
        gaps: &'static str,
    },
    /// A matrix that is no rigid motion.
    #[error("records[{index}] ({kind}): {why}")]
    Transform {
        /// Its place in the list, from 0.
        index: usize,
        /// What was recorded.
        kind: &'static str,
        /// Why.
        why: super::registration::RegistrationError,
    },
    /// A negative deviation or tolerance.
    #[error("{field} is {given}; allowed are 0 to {most} mm")]
    OutOfRange {
        /// The field.
        field: &'static str,
        /// What was given.
        given: f64,
        /// The most allowed.
        most: f64,
    },
    /// Not the three points of a plane.
    #[error("occlusal_plane_mm has {given} points; three, not in one line, are needed")]
    NotThree {
        /// Number given.
        given: usize,
    },
    /// Two answers to one question.
    #[error(
        "incisal_guidance and anterior_guide are both given; give the measures that the table is set from, or the guide itself"
    )]
    TwoGuides,
    /// Gaps without the grooves they were measured at.
    #[error(
        "records[{index}] gives {given} groove gaps, split_cast_grooves_mm {expected} grooves; one gap for each is needed"
    )]
    Gaps {
        /// Its place in the list, from 0.
        index: usize,
        /// Gaps given.
        given: usize,
        /// Grooves given.
        expected: usize,
    },
}

impl SenselessCase {
    /// The field that the complaint is about.
    #[must_use]
    pub const fn field(&self) -> &'static str {
        match self {
            Self::TooFew { .. } => "in_centric_mm",
            Self::OutOfRange { field, .. } => field,
            Self::Gaps { .. } => "groove_gaps_mm",
            Self::NotThree { .. } => "occlusal_plane_mm",
            Self::TwoGuides => "incisal_guidance",
            _ => "records",
        }
    }
}

impl Case {
    /// Reads a case from its text (RON).
    ///
    /// # Errors
    /// [`ReadError`] with line, column, field, what was given and what is allowed.
    pub fn from_ron(text: &str) -> Result<Self, ReadError> {
        text::read(text, |case: &Self| case.check().map_err(|error| (error.field(), error.to_string())))
    }

    /// Writes the case as text that [`Case::from_ron`] reads back as the same case.
    #[must_use]
    pub fn to_ron(&self) -> String {
        text::write(self)
    }

    /// Checks what no field can tell by itself.
    ///
    /// # Errors
    /// The first thing found [`SenselessCase`].
    pub fn check(&self) -> Result<(), SenselessCase> {
        let within = |field, length: Millimetres, most| {
            let given = length.0;
            if (0.0..=most).contains(&given) {
                Ok(())
            } else {
                Err(SenselessCase::OutOfRange { field, given, most })
            }
        };
        within("sd_mm", self.lower_landmarks.sd_mm, 5.0)?;
        within("split_cast_tolerance_mm", self.split_cast_tolerance_mm, 5.0)?;
        within("immediate_translation_mm", self.immediate_translation_mm.right, 5.0)?;
        within("immediate_translation_mm", self.immediate_translation_mm.left, 5.0)?;
        if let Some(distance) = self.intercondylar_distance_mm {
            let facts = &crate::instrument::Instrument::INTERCONDYLAR_DISTANCE.facts;
            if facts.check(distance.0).is_err() {
                return Err(SenselessCase::OutOfRange {
                    field: facts.key,
                    given: distance.0,
                    most: facts.max,
                });
            }
        }
        if self.anterior_guide.is_some() && self.incisal_guidance.is_some() {
            return Err(SenselessCase::TwoGuides);
        }
        let expected = self.lower_landmarks.in_centric_mm.len();
        if expected < FEWEST_LANDMARKS {
            return Err(SenselessCase::TooFew { given: expected });
        }
        if self.records.is_empty() {
            return Err(SenselessCase::NoRecord);
        }
        for (index, record) in self.records.iter().enumerate() {
            self.check_record(index, record)?;
        }
        match self.occlusal_plane_mm.as_ref().map(Vec::len) {
            None | Some(3) => Ok(()),
            Some(given) => Err(SenselessCase::NotThree { given }),
        }
    }

    fn check_record(&self, index: usize, record: &RecordFields) -> Result<(), SenselessCase> {
        let (kind, pose) = (record.kind().words(), record.pose());
        let may_have_gaps = record.kind() == RecordKind::Centric;
        let given = usize::from(pose.lower_landmarks_mm.is_some())
            + usize::from(pose.transform.is_some())
            + usize::from(pose.groove_gaps_mm.is_some());
        if given != 1 || (pose.groove_gaps_mm.is_some() && !may_have_gaps) {
            let gaps = if may_have_gaps {
                ", or groove_gaps_mm"
            } else {
                "; groove_gaps_mm belongs to a centric repeat"
            };
            return Err(SenselessCase::OnePose { index, kind, given, gaps });
        }
        if let Some(landmarks) = &pose.lower_landmarks_mm {
            let (given, expected) = (landmarks.len(), self.lower_landmarks.in_centric_mm.len());
            if given != expected {
                return Err(SenselessCase::Unmatched { index, kind, given, expected });
            }
        }
        if let Some(rows) = pose.transform {
            ScanMotion::from_rows(rows).map_err(|why| SenselessCase::Transform { index, kind, why })?;
        }
        if let Some(gaps) = &pose.groove_gaps_mm {
            let (given, expected) = (gaps.len(), self.split_cast_grooves_mm.as_ref().map_or(0, Vec::len));
            if given != expected {
                return Err(SenselessCase::Gaps { index, given, expected });
            }
        }
        Ok(())
    }

    /// What messages call the places at which the centric misfit is read, in their order.
    #[must_use]
    pub fn groove_names(&self) -> Vec<String> {
        let numbered = |what: &str, count: usize| (1..=count).map(|n| format!("{what} {n}")).collect();
        match &self.split_cast_grooves_mm {
            Some(places) if places.len() == SIX_GROOVES.len() => SIX_GROOVES.map(str::to_owned).to_vec(),
            Some(places) => numbered("groove", places.len()),
            None => numbered("landmark", self.lower_landmarks.in_centric_mm.len()),
        }
    }

    /// How the casts were related to the axis.
    #[must_use]
    pub(crate) fn mounting_record(&self) -> MountingRecord {
        self.mounting.record()
    }
}

impl MountingFields {
    /// The mounting record that the file's fields give.
    #[must_use]
    pub(crate) fn record(&self) -> MountingRecord {
        match *self {
            MountingFields::FaceBow { right_axis_mm, left_axis_mm, anterior_reference_mm } => {
                MountingRecord::FaceBow {
                    right_axis: right_axis_mm.0,
                    left_axis: left_axis_mm.0,
                    anterior_reference: anterior_reference_mm.0,
                }
            }
            MountingFields::Average { balkwill_deg, arm_mm, incisal_mm, right_molar_mm, left_molar_mm } => {
                MountingRecord::Average {
                    balkwill: Angle::from_degrees(balkwill_deg),
                    arm: arm_mm.length(),
                    incisal: incisal_mm.0,
                    right_molar: right_molar_mm.0,
                    left_molar: left_molar_mm.0,
                }
            }
        }
    }
}

/// The grooves of a split-cast key in their order (common practice, no source).
const SIX_GROOVES: [&str; 6] = [
    "back border right",
    "back border left",
    "first molar right",
    "first molar left",
    "lateral incisor right",
    "lateral incisor left",
];

const fn usual_tolerance() -> Millimetres {
    Millimetres(USUAL_TOLERANCE_MM)
}

/// No scan, instrument or patient reaches farther from its origin.
const FARTHEST_MM: f64 = 1000.0;

impl Millimetres {
    /// A length, if it is finite and within ±1,000 mm.
    #[must_use]
    pub fn new(length: Length) -> Option<Self> {
        (length.mm().abs() <= FARTHEST_MM).then_some(Self(length.mm()))
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
