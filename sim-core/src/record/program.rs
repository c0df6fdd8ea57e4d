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

use super::case::Case;
use super::combine::combine;
use super::find_warnings::warnings;
use super::from_gaps::{self, GapFit, GapRecord};
use super::from_scales;
use super::kind::RecordKind;
use super::mounting::Mounting;
pub use super::program_error::ProgramError;
pub use super::read_record::ReadRecord;
use super::reading::RecordReading;
use super::registration::{ScanMotion, register};
use super::settings;
pub use super::settings::{
    ProgrammedAngle, ReadAngle, SideSettings, Source, UnreadableAngle, lateral_angle_by_rule,
};
use super::split_cast::{self, GrooveError, SplitCast};
use super::warning::Warning;
use super::{GuideHold, RecordFields};
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
    /// What the records given by gaps at the grooves say; `None` without one, and where the settings are
    /// withheld.
    pub gaps: Option<GapFit>,
    /// What to doubt.
    pub warnings: Vec<Warning>,
}

impl Case {
    /// Works the case through: mounting, records, centric check, settings, warnings.
    ///
    /// # Errors
    /// [`ProgramError`] names the record or field at fault. A centric record that is not confirmed
    /// is no error: the settings are then withheld.
    pub fn program(&self) -> Result<Programmed, ProgramError> {
        let centric = self.centric_landmarks();
        let given = self.intercondylar_distance_mm.map(super::fields::Millimetres::length);
        let mounting = Mounting::new(&self.mounting_record(), given, &centric)?;
        let distance = given.unwrap_or(mounting.axis_length());
        let allowed = &Instrument::INTERCONDYLAR_DISTANCE.facts;
        if allowed.check(distance.mm()).is_err() {
            return Err(ProgramError::Distance { given_mm: distance.mm() });
        }
        let records = self.read_all(&centric, &mounting, distance)?;
        let check = self.check_centric(&records, &mounting)?;
        let confirmed = check.as_ref().is_none_or(|check| check.confirmed);
        let gaps = if confirmed { self.fit_gaps(&mounting, distance)? } else { None };
        let mut settings = if confirmed { Some(self.settings(&records, gaps.as_ref())?) } else { None };
        if let Some(settings) = &mut settings {
            self.add_spread(settings, &centric, distance);
        }
        let warnings = warnings(self, &mounting, &records, check.as_ref(), gaps.as_ref(), settings.as_ref())?;
        Ok(Programmed {
            mounting,
            intercondylar_distance: distance,
            records,
            centric: check,
            settings,
            gaps,
            warnings,
        })
    }

    /// The landmarks in centric; none where no record is given by landmarks.
    pub(super) fn centric_landmarks(&self) -> Vec<ScanPoint> {
        let landmarks = self.lower_landmarks.iter().flat_map(|landmarks| &landmarks.in_centric_mm);
        landmarks.map(|place| place.point()).collect()
    }

    /// Where the misfit of the split is read, in the upper frame.
    #[must_use]
    pub fn grooves(&self, mounting: &Mounting) -> Vec<UpperPoint> {
        if let Some(places) = &self.grooves_mm {
            // In the instrument's frame already.
            return places.iter().map(|place| UpperPoint::from_coords(*place.point().coords())).collect();
        }
        self.groove_places()
            .unwrap_or_default()
            .iter()
            .map(|place| mounting.to_upper(&place.point()))
            .collect()
    }

    /// What the records given by gaps say; `None` without one.
    pub(super) fn fit_gaps(
        &self,
        mounting: &Mounting,
        distance: Length,
    ) -> Result<Option<GapFit>, ProgramError> {
        let immediate = Side::BOTH.map(|side| self.immediate_translation_mm.of(side));
        let records: Vec<GapRecord<'_>> = self
            .records
            .iter()
            .enumerate()
            .filter_map(|(index, record)| match record {
                RecordFields::GrooveGaps(given) if given.record != RecordKind::Centric => {
                    let read = given.advance_mm.or(self.advance_mm).unwrap_or_default();
                    let advance = Side::BOTH.map(|side| {
                        // The case's own numbers are those of protrusion: the working sphere stays.
                        let works = given.advance_mm.is_none() && !given.record.is_guided(side);
                        if works { Length::ZERO } else { read.of(side) }
                    });
                    Some(GapRecord { index, given, advance, immediate })
                }
                _ => None,
            })
            .collect();
        if records.is_empty() {
            return Ok(None);
        }
        let hold = self.guide_hold.unwrap_or(GuideHold::Track);
        Ok(Some(from_gaps::fit(&records, &self.grooves(mounting), self.design, distance, hold)?))
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
        let Some(pose) = record.pose() else {
            return Ok(ReadRecord { kind, fit_rms: None, residuals: Vec::new(), reading: None });
        };
        if let (Some(landmarks), Some(lower)) = (&pose.lower_landmarks_mm, &self.lower_landmarks) {
            let seen: Vec<ScanPoint> = landmarks.iter().map(|place| place.point()).collect();
            let found = register(centric, &seen).map_err(failed)?;
            let sd = lower.sd_mm.length();
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
        mounting: &Mounting,
    ) -> Result<Option<SplitCast>, ProgramError> {
        let grooves = self.grooves(mounting);
        let tolerance = self.split_cast_tolerance_mm.length();
        let mut worst: Option<SplitCast> = None;
        for (record, given) in
            records.iter().zip(&self.records).filter(|(read, _)| read.kind == RecordKind::Centric)
        {
            let check = match (&record.reading, given) {
                (Some(_), _) if grooves.is_empty() => return Err(GrooveError::InLine.into()),
                (Some(reading), _) => split_cast::compare(reading, &grooves, tolerance),
                (None, RecordFields::GrooveGaps(measured)) => {
                    split_cast::from_caliper(&measured.gaps_mm, measured.sd_mm.length(), &grooves, tolerance)?
                }
                (None, given) => match given.pose().and_then(|pose| pose.groove_gaps_mm.as_ref()) {
                    Some(gaps) => split_cast::from_gaps(gaps, &grooves, tolerance)?,
                    None => continue,
                },
            };
            if worst.as_ref().is_none_or(|worst| check.largest_gap > worst.largest_gap) {
                worst = Some(check);
            }
        }
        Ok(worst)
    }

    pub(super) fn settings(
        &self,
        records: &[ReadRecord],
        gaps: Option<&GapFit>,
    ) -> Result<[SideSettings; 2], ProgramError> {
        let of = |side| self.side_settings(side, records, gaps);
        Ok([of(Side::Right)?, of(Side::Left)?])
    }

    fn side_settings(
        &self,
        side: Side,
        records: &[ReadRecord],
        gaps: Option<&GapFit>,
    ) -> Result<SideSettings, ProgramError> {
        let of_kind = |kind: RecordKind| -> Vec<&RecordReading> {
            records.iter().filter(|read| read.kind == kind).filter_map(|read| read.reading.as_ref()).collect()
        };
        // The condyle of this side orbits in the excursion to the other.
        let orbiting = match side {
            Side::Right => RecordKind::LeftLateral,
            Side::Left => RecordKind::RightLateral,
        };
        let on_scale = |kind: RecordKind| {
            let of_this_kind = self.records.iter().filter_map(move |record| match record {
                RecordFields::ScaleReadings(readings) if readings.record == kind => Some(readings),
                _ => None,
            });
            from_scales::read(of_this_kind, side)
        };
        let translation = self.immediate_translation_mm.of(side);
        let (protrusive, lateral) = (of_kind(RecordKind::Protrusive), of_kind(orbiting));
        let unreadable = |why| ProgramError::Unreadable {
            side,
            setting: CondylarGuide::HORIZONTAL_INCLINATION.facts.key,
            needed: "a protrusive record, or a lateral one in which that condyle orbits, is needed",
            why,
        };
        // Protrusive records of any form go before lateral ones.
        let by_gaps = gaps.and_then(|fit| fit.horizontal_inclination[side].clone());
        let has_protrusive_gaps = self.records.iter().any(|record| {
            matches!(record, RecordFields::GrooveGaps(gaps) if gaps.record == RecordKind::Protrusive)
        });
        let on_protrusive_scale = on_scale(RecordKind::Protrusive);
        let has_protrusive = !protrusive.is_empty() || on_protrusive_scale.is_some() || has_protrusive_gaps;
        let by_pose = if !protrusive.is_empty() {
            Some(settings::horizontal_inclination(side, &protrusive).map_err(unreadable)?)
        } else if has_protrusive || (lateral.is_empty() && by_gaps.is_some()) {
            None
        } else {
            Some(settings::horizontal_inclination(side, &lateral).map_err(unreadable)?)
        };
        let from = Source::Record(if has_protrusive { RecordKind::Protrusive } else { orbiting });
        let angle = combine([by_pose, on_protrusive_scale, by_gaps].into_iter().flatten())
            .ok_or_else(|| unreadable(UnreadableAngle::NoRecord))?;
        let horizontal_inclination = ProgrammedAngle { angle, from };
        let by_step = gaps.and_then(|fit| fit.lateral_angle[side].clone());
        let by_pose = match settings::lateral_angle(side, translation, &lateral) {
            Ok(angle) => Some(angle),
            Err(UnreadableAngle::NoRecord) => None,
            Err(why) => {
                return Err(ProgramError::Unreadable {
                    side,
                    setting: CondylarGuide::LATERAL_ANGLE.facts.key,
                    needed: "in a lateral record to the other side that condyle orbits (are the sides of the records swapped?)",
                    why,
                });
            }
        };
        let lateral_angle = match combine([by_pose, on_scale(orbiting), by_step].into_iter().flatten()) {
            Some(angle) => ProgrammedAngle { angle, from: Source::Record(orbiting) },
            None => ProgrammedAngle {
                angle: ReadAngle {
                    value: settings::lateral_angle_by_rule(horizontal_inclination.angle.value),
                    // What the rule makes of H is known, what this patient's joints make of the rule is not.
                    standard_error: None,
                    mounting_error: None,
                    scatter: None,
                    records: 0,
                },
                from: Source::Rule,
            },
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
