//! A case: a patient's records as their file gives them.

use serde::{Deserialize, Serialize};

use super::bench_record::{GrooveGaps, GuideHold, ScaleReadings};
use super::check_bench;
use super::fields::{Millimetres, ScanPlace, SideFields};
use super::kind::RecordKind;
use super::mounting::MountingRecord;
use super::registration::{FEWEST_LANDMARKS, ScanMotion};
use super::senseless::{LONGEST_NAME, SenselessCase};
use super::split_cast::USUAL_TOLERANCE_MM;
use crate::anterior::AnteriorGuide;
use crate::cast::CastUnit;
use crate::cusp::{OpposingInclines, Tooth};
use crate::instrument::Design;
use crate::plan::Plan;
use crate::text::{self, ReadError};
use crate::units::Angle;

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
    /// Landmarks of the lower cast in centric, and how exactly they were measured; absent where no record
    /// is given by landmarks.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub lower_landmarks: Option<LandmarkFields>,
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
    /// The grooves of the split in the instrument's frame, in the same order: for casts that were never
    /// scanned. Not together with `split_cast_grooves_mm`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub grooves_mm: Option<Vec<ScanPlace>>,
    /// Advance of the spheres in a record given by gaps, read on the guides, where the record does not
    /// say so itself.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub advance_mm: Option<SideFields>,
    /// How the instrument's guides hold their spheres; a track when absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub guide_hold: Option<GuideHold>,
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

/// Landmarks as a case file gives them.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct LandmarkFields {
    /// The landmarks in the tentative centric position: at least three, not in one line.
    pub in_centric_mm: Vec<ScanPlace>,
    /// Standard deviation of each coordinate of a landmark, in every list.
    pub sd_mm: Millimetres,
}

/// A mounting as a case file gives it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
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
    /// By name and by the numbers that the face-bow shows, without coordinates: the casts are mounted,
    /// and every place that the case gives is in the instrument's own frame.
    Named {
        /// How the axis was found.
        axis: NamedAxis,
        /// The anterior reference point, which with the axis makes the horizontal reference plane that
        /// every inclination is to: `orbitale`, for instance.
        anterior_reference: String,
        /// What the rods at the condyles read with the bow in the middle; nothing is known when absent.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        rods_mm: Option<SideFields>,
    },
}

/// How the axis of a face-bow was found.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub enum NamedAxis {
    /// On the patient, by opening and closing.
    Located,
    /// By a rule, in words: how far from which points.
    Arbitrary(String),
}

/// One record as a case file gives it: by landmarks or a matrix, or as the bench has it.
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
    /// What the scales read when the split closed on a record.
    ScaleReadings(ScaleReadings),
    /// Gaps at the grooves with the guides at trial angles.
    GrooveGaps(GrooveGaps),
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
    /// Whether the central bearing point has gone through the record; nothing is known when absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub perforated: Option<bool>,
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
            Self::ScaleReadings(readings) => readings.record,
            Self::GrooveGaps(gaps) => gaps.record,
        }
    }

    /// The pose it gives; `None` for a record as the bench has it.
    #[must_use]
    pub const fn pose(&self) -> Option<&PoseFields> {
        match self {
            Self::Centric(pose)
            | Self::Protrusive(pose)
            | Self::RightLateral(pose)
            | Self::LeftLateral(pose) => Some(pose),
            Self::ScaleReadings(_) | Self::GrooveGaps(_) => None,
        }
    }

    /// Likewise, to change it.
    pub const fn pose_mut(&mut self) -> Option<&mut PoseFields> {
        match self {
            Self::Centric(pose)
            | Self::Protrusive(pose)
            | Self::RightLateral(pose)
            | Self::LeftLateral(pose) => Some(pose),
            Self::ScaleReadings(_) | Self::GrooveGaps(_) => None,
        }
    }

    /// Whether the central bearing point has gone through the record; `None` where nothing is said.
    #[must_use]
    pub fn perforated(&self) -> Option<bool> {
        match self {
            Self::ScaleReadings(readings) => readings.perforated,
            Self::GrooveGaps(gaps) => gaps.perforated,
            Self::Centric(_) | Self::Protrusive(_) | Self::RightLateral(_) | Self::LeftLateral(_) => {
                self.pose()?.perforated
            }
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
            let given = length.length().mm();
            if (0.0..=most).contains(&given) {
                Ok(())
            } else {
                Err(SenselessCase::OutOfRange { field, given, most })
            }
        };
        if let Some(landmarks) = &self.lower_landmarks {
            within("sd_mm", landmarks.sd_mm, 5.0)?;
        }
        within("split_cast_tolerance_mm", self.split_cast_tolerance_mm, 5.0)?;
        within("immediate_translation_mm", self.immediate_translation_mm.right, 5.0)?;
        within("immediate_translation_mm", self.immediate_translation_mm.left, 5.0)?;
        if let Some(distance) = self.intercondylar_distance_mm {
            let facts = &crate::instrument::Instrument::INTERCONDYLAR_DISTANCE.facts;
            if facts.check(distance.length().mm()).is_err() {
                return Err(SenselessCase::OutOfRange {
                    field: facts.key,
                    given: distance.length().mm(),
                    most: facts.max,
                });
            }
        }
        if self.anterior_guide.is_some() && self.incisal_guidance.is_some() {
            return Err(SenselessCase::TwoGuides);
        }
        if let Some(given) = self.lower_landmarks.as_ref().map(|landmarks| landmarks.in_centric_mm.len())
            && given < FEWEST_LANDMARKS
        {
            return Err(SenselessCase::TooFew { given });
        }
        self.check_bench()?;
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
        match record {
            RecordFields::ScaleReadings(readings) => check_bench::readings(index, readings),
            RecordFields::GrooveGaps(gaps) => {
                check_bench::gaps(index, gaps, self.groove_count(), self.advance_mm)
            }
            RecordFields::Centric(pose)
            | RecordFields::Protrusive(pose)
            | RecordFields::RightLateral(pose)
            | RecordFields::LeftLateral(pose) => self.check_pose(index, record.kind(), pose),
        }
    }

    fn check_pose(&self, index: usize, kind: RecordKind, pose: &PoseFields) -> Result<(), SenselessCase> {
        let may_have_gaps = kind == RecordKind::Centric;
        let kind = kind.words();
        let given = usize::from(pose.lower_landmarks_mm.is_some())
            + usize::from(pose.transform.is_some())
            + usize::from(pose.groove_gaps_mm.is_some());
        if given != 1 || (pose.groove_gaps_mm.is_some() && !may_have_gaps) {
            let gaps = if may_have_gaps {
                ", or groove_gaps_mm"
            } else {
                "; groove_gaps_mm belongs to a centric repeat, gaps at trial angles to GrooveGaps"
            };
            return Err(SenselessCase::OnePose { index, kind, given, gaps });
        }
        if let Some(landmarks) = &pose.lower_landmarks_mm {
            let Some(centric) = &self.lower_landmarks else {
                return Err(SenselessCase::NoLandmarks { index, kind });
            };
            let (given, expected) = (landmarks.len(), centric.in_centric_mm.len());
            if given != expected {
                return Err(SenselessCase::Unmatched { index, kind, given, expected });
            }
        }
        if let Some(rows) = pose.transform {
            ScanMotion::from_rows(rows).map_err(|why| SenselessCase::Transform { index, kind, why })?;
        }
        if let Some(gaps) = &pose.groove_gaps_mm {
            let (given, expected) = (gaps.len(), self.groove_count());
            if given != expected {
                return Err(SenselessCase::Gaps { index, given, expected });
            }
        }
        Ok(())
    }

    /// What can be wrong with a case of the bench as a whole.
    fn check_bench(&self) -> Result<(), SenselessCase> {
        if self.grooves_mm.is_some() && self.split_cast_grooves_mm.is_some() {
            return Err(SenselessCase::TwiceGrooves);
        }
        if let MountingFields::Named { axis, anterior_reference, .. } = &self.mounting {
            let rule = match axis {
                NamedAxis::Located => None,
                NamedAxis::Arbitrary(rule) => Some(("axis", rule)),
            };
            for (field, text) in rule.into_iter().chain([("anterior_reference", anterior_reference)]) {
                if text.trim().is_empty() || text.chars().count() > LONGEST_NAME {
                    return Err(SenselessCase::Nameless { field });
                }
            }
            if self.intercondylar_distance_mm.is_none() {
                return Err(SenselessCase::NoDistance);
            }
        }
        Ok(())
    }

    /// Where the misfit is read, as the case gives it: its grooves, else its landmarks; `None` without
    /// either.
    #[must_use]
    pub fn groove_places(&self) -> Option<&[ScanPlace]> {
        let grooves = self.grooves_mm.as_deref().or(self.split_cast_grooves_mm.as_deref());
        grooves.or_else(|| self.lower_landmarks.as_ref().map(|landmarks| &*landmarks.in_centric_mm))
    }

    /// How many grooves the case names.
    fn groove_count(&self) -> usize {
        self.grooves_mm.as_ref().or(self.split_cast_grooves_mm.as_ref()).map_or(0, Vec::len)
    }

    /// Whether the case names grooves, rather than leaving it to the landmarks.
    #[must_use]
    pub const fn has_grooves(&self) -> bool {
        self.grooves_mm.is_some() || self.split_cast_grooves_mm.is_some()
    }

    /// What messages call the places at which the centric misfit is read, in their order.
    #[must_use]
    pub fn groove_names(&self) -> Vec<String> {
        let numbered = |what: &str, count: usize| (1..=count).map(|n| format!("{what} {n}")).collect();
        match self.groove_places() {
            Some(places) if !self.has_grooves() => numbered("landmark", places.len()),
            Some(places) if places.len() == SIX_GROOVES.len() => SIX_GROOVES.map(str::to_owned).to_vec(),
            Some(places) => numbered("groove", places.len()),
            None => Vec::new(),
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
            MountingFields::Named { .. } => MountingRecord::Done,
            MountingFields::FaceBow { right_axis_mm, left_axis_mm, anterior_reference_mm } => {
                MountingRecord::FaceBow {
                    right_axis: right_axis_mm.point(),
                    left_axis: left_axis_mm.point(),
                    anterior_reference: anterior_reference_mm.point(),
                }
            }
            MountingFields::Average { balkwill_deg, arm_mm, incisal_mm, right_molar_mm, left_molar_mm } => {
                MountingRecord::Average {
                    balkwill: Angle::from_degrees(balkwill_deg),
                    arm: arm_mm.length(),
                    incisal: incisal_mm.point(),
                    right_molar: right_molar_mm.point(),
                    left_molar: left_molar_mm.point(),
                }
            }
        }
    }
}

/// The grooves of a split-cast key in their order (common practice, no source).
pub(crate) const SIX_GROOVES: [&str; 6] = [
    "back border right",
    "back border left",
    "first molar right",
    "first molar left",
    "lateral incisor right",
    "lateral incisor left",
];

const fn usual_tolerance() -> Millimetres {
    Millimetres::of_mm(USUAL_TOLERANCE_MM)
}
