//! From a case to a programmed instrument: every record read, the centric position checked, the
//! settings taken, and what to doubt said in numbers.
//!
//! ```
//! use sim_core::frame::Side;
//! use sim_core::practice::{Level, deal};
//!
//! // An invented patient, whose jaw is known.
//! let patient = deal(1, Level::First, &[])?;
//! let programmed = patient.case.program()?;
//! for side in Side::BOTH {
//!     let read = &programmed.side(side).expect("the centric record is confirmed").horizontal_inclination;
//!     let error = read.angle.standard_error.expect("the case says how noisy its landmarks are");
//!     let off = read.angle.value - patient.jaw().guide(side).horizontal_inclination;
//!     assert!(off.degrees().abs() < 4.0 * error.degrees(), "{side}: {}°", off.degrees());
//! }
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

use super::case::{Case, RecordKind};
use super::mounting::{Mounting, MountingError};
pub use super::read_record::ReadRecord;
use super::reading::RecordReading;
use super::registration::{RegistrationError, ScanMotion, register};
use super::settings;
pub use super::settings::{ProgrammedAngle, ReadAngle, SideSettings, Source, UnreadableAngle};
use super::split_cast::{self, GrooveError, SplitCast};
use super::warning::{Warning, warnings};
use crate::frame::{ScanPoint, Side, UpperPoint};
use crate::guide::CondylarGuide;
use crate::instrument::Instrument;
use crate::units::Length;

/// A case worked through.
#[derive(Clone, Debug, PartialEq)]
pub struct Programmed {
    /// Where the casts stand in the instrument.
    pub mounting: Mounting,
    /// The intercondylar distance used.
    pub intercondylar_distance: Length,
    /// Every record as read, in the order of the case.
    pub records: Vec<ReadRecord>,
    /// The centric check; `None` without a repeat. Of several repeats the one with the largest gap.
    pub centric: Option<SplitCast>,
    /// The settings; `None` when the centric record is not confirmed.
    pub settings: Option<[SideSettings; 2]>,
    /// What to doubt.
    pub warnings: Vec<Warning>,
}

/// Why a case cannot be worked through.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum ProgramError {
    /// The casts cannot be mounted.
    #[error("mounting: {0}")]
    Mounting(#[from] MountingError),
    /// A record cannot be registered.
    #[error("records[{index}] ({kind}): {why}")]
    Registration {
        /// Its place in the list, from 0.
        index: usize,
        /// What was recorded.
        kind: &'static str,
        /// Why.
        why: RegistrationError,
    },
    /// Groove gaps cannot be explained.
    #[error("split_cast_grooves_mm: {0}")]
    Grooves(#[from] GrooveError),
    /// A setting cannot be read.
    #[error("{setting} of the {side} guide cannot be set: {why}; {needed}")]
    Unreadable {
        /// The side.
        side: Side,
        /// `horizontal_inclination_deg` or `lateral_angle_deg`.
        setting: &'static str,
        /// What would do.
        needed: &'static str,
        /// Why.
        why: UnreadableAngle,
    },
    /// The axis is not one that the instrument can take.
    #[error(
        "intercondylar_distance_mm: the axis points are {given_mm:.1} mm apart, which no instrument takes; give the instrument's own distance"
    )]
    Distance {
        /// Distance between the axis points, in millimetres.
        given_mm: f64,
    },
    /// Something of the scene cannot stand in the instrument.
    #[error("{field}: {why}")]
    Scene {
        /// The field of the case.
        field: String,
        /// Why.
        why: String,
    },
}

impl ProgramError {
    /// The field of the case that the complaint is about.
    #[must_use]
    pub fn field(&self) -> &str {
        match self {
            Self::Mounting(_) => "mounting",
            Self::Registration { .. } | Self::Unreadable { .. } => "records",
            Self::Grooves(_) => "split_cast_grooves_mm",
            Self::Distance { .. } => "mounting",
            Self::Scene { field, .. } => field.split('[').next().unwrap_or(field),
        }
    }
}

impl Case {
    /// Works the case through: mounting, records, centric check, settings, warnings.
    ///
    /// # Errors
    /// [`ProgramError`] names the record or field at fault. A centric record that is not confirmed
    /// is no error: the settings are then withheld.
    pub fn program(&self) -> Result<Programmed, ProgramError> {
        let centric: Vec<ScanPoint> =
            self.lower_landmarks.in_centric_mm.iter().map(|place| place.point()).collect();
        let given = self.intercondylar_distance_mm.map(super::case::Millimetres::length);
        let mounting = Mounting::new(&self.mounting_record(), given, &centric)?;
        let distance = given.unwrap_or(mounting.axis_length());
        let allowed = &Instrument::INTERCONDYLAR_DISTANCE.facts;
        if allowed.check(distance.mm()).is_err() {
            return Err(ProgramError::Distance { given_mm: distance.mm() });
        }
        let records = self.read_all(&centric, &mounting, distance)?;
        let check = self.check_centric(&records, &centric, &mounting)?;
        let confirmed = check.as_ref().is_none_or(|check| check.confirmed);
        let mut settings = if confirmed { Some(self.settings(&records)?) } else { None };
        if let Some(settings) = &mut settings {
            self.add_spread(settings, &centric, distance);
        }
        let warnings = warnings(self, &mounting, &records, check.as_ref(), settings.as_ref())?;
        Ok(Programmed {
            mounting,
            intercondylar_distance: distance,
            records,
            centric: check,
            settings,
            warnings,
        })
    }

    /// Every record read with the casts mounted so, in the order of the case.
    pub(super) fn read_all(
        &self,
        centric: &[ScanPoint],
        mounting: &Mounting,
        distance: Length,
    ) -> Result<Vec<ReadRecord>, ProgramError> {
        (0..self.records.len()).map(|index| self.read(index, centric, mounting, distance)).collect()
    }

    fn read(
        &self,
        index: usize,
        centric: &[ScanPoint],
        mounting: &Mounting,
        distance: Length,
    ) -> Result<ReadRecord, ProgramError> {
        let record = &self.records[index];
        let kind = record.kind();
        let failed = |why| ProgramError::Registration { index, kind: kind.words(), why };
        let pose = record.pose();
        if let Some(landmarks) = &pose.lower_landmarks_mm {
            let seen: Vec<ScanPoint> = landmarks.iter().map(|place| place.point()).collect();
            let found = register(centric, &seen).map_err(failed)?;
            let sd = self.lower_landmarks.sd_mm.length();
            let reading = RecordReading::of_landmarks(mounting, &found, sd, self.design, distance);
            Ok(ReadRecord {
                kind,
                fit_rms: Some(found.fit_rms),
                residuals: found.residuals,
                reading: Some(reading),
            })
        } else {
            let motion = pose.transform.map(ScanMotion::from_rows).transpose().map_err(failed)?;
            let reading =
                motion.map(|motion| RecordReading::of_motion(mounting, &motion, self.design, distance));
            Ok(ReadRecord { kind, fit_rms: None, residuals: Vec::new(), reading })
        }
    }

    fn check_centric(
        &self,
        records: &[ReadRecord],
        centric: &[ScanPoint],
        mounting: &Mounting,
    ) -> Result<Option<SplitCast>, ProgramError> {
        let grooves: Vec<UpperPoint> = match &self.split_cast_grooves_mm {
            Some(places) => places.iter().map(|place| mounting.to_upper(&place.point())).collect(),
            None => centric.iter().map(|point| mounting.to_upper(point)).collect(),
        };
        let tolerance = self.split_cast_tolerance_mm.length();
        let mut worst: Option<SplitCast> = None;
        for (record, given) in
            records.iter().zip(&self.records).filter(|(read, _)| read.kind == RecordKind::Centric)
        {
            let check = match (&record.reading, &given.pose().groove_gaps_mm) {
                (Some(reading), _) => split_cast::compare(reading, &grooves, tolerance),
                (None, Some(gaps)) => split_cast::from_gaps(gaps, &grooves, tolerance)?,
                (None, None) => continue,
            };
            if worst.as_ref().is_none_or(|worst| check.largest_gap > worst.largest_gap) {
                worst = Some(check);
            }
        }
        Ok(worst)
    }

    pub(super) fn settings(&self, records: &[ReadRecord]) -> Result<[SideSettings; 2], ProgramError> {
        Ok([self.side_settings(Side::Right, records)?, self.side_settings(Side::Left, records)?])
    }

    fn side_settings(&self, side: Side, records: &[ReadRecord]) -> Result<SideSettings, ProgramError> {
        let of_kind = |kind: RecordKind| -> Vec<&RecordReading> {
            records.iter().filter(|read| read.kind == kind).filter_map(|read| read.reading.as_ref()).collect()
        };
        // The condyle of this side orbits in the excursion to the other.
        let orbiting = match side {
            Side::Right => RecordKind::LeftLateral,
            Side::Left => RecordKind::RightLateral,
        };
        let translation = match side {
            Side::Right => self.immediate_translation_mm.right,
            Side::Left => self.immediate_translation_mm.left,
        };
        let (protrusive, lateral) = (of_kind(RecordKind::Protrusive), of_kind(orbiting));
        let unreadable = |why| ProgramError::Unreadable {
            side,
            setting: CondylarGuide::HORIZONTAL_INCLINATION.facts.key,
            needed: "a protrusive record, or a lateral one in which that condyle orbits, is needed",
            why,
        };
        let horizontal_inclination = if protrusive.is_empty() {
            let angle = settings::horizontal_inclination(side, &lateral).map_err(unreadable)?;
            ProgrammedAngle { angle, from: Source::Record(orbiting) }
        } else {
            let angle = settings::horizontal_inclination(side, &protrusive).map_err(unreadable)?;
            ProgrammedAngle { angle, from: Source::Record(RecordKind::Protrusive) }
        };
        let lateral_angle = match settings::lateral_angle(side, translation.length(), &lateral) {
            Ok(angle) => ProgrammedAngle { angle, from: Source::Record(orbiting) },
            Err(UnreadableAngle::NoRecord) => {
                let h = &horizontal_inclination.angle;
                let angle = ReadAngle {
                    value: settings::lateral_angle_by_rule(h.value),
                    // The rule's own spread between people is not published; only H's share is known.
                    standard_error: h.standard_error.map(|error| error * 0.125),
                    mounting_error: None,
                    scatter: None,
                    records: 0,
                };
                ProgrammedAngle { angle, from: Source::Rule }
            }
            Err(why) => {
                return Err(ProgramError::Unreadable {
                    side,
                    setting: CondylarGuide::LATERAL_ANGLE.facts.key,
                    needed: "in a lateral record to the other side that condyle orbits (are the sides of the records swapped?)",
                    why,
                });
            }
        };
        Ok(SideSettings { horizontal_inclination, lateral_angle })
    }
}

impl Programmed {
    /// The settings of one guide.
    #[must_use]
    pub fn side(&self, side: Side) -> Option<&SideSettings> {
        self.settings.as_ref().map(|both| &both[side as usize])
    }
}
