//! The records of a patient whose casts nobody scanned: what the bench shows of them.
//!
//! The split closes on the repeat of the centric record, or stands open with a step. With the protrusive
//! record between the casts a caliper reads the gaps at two trial angles, and the scales are read whenever
//! the split closes, four times on each of two records. Each lateral record stands once with its gaps and
//! with how far either sphere has advanced in it, which tells the side that it goes to; then the scale of
//! the orbiting guide is read four times. Where the labels are exchanged the guide that the label names
//! closes nothing, and no scale is read.
//!
//! Where the tentative centric record is off, the other records are dealt as if the casts stood rightly
//! nevertheless: nothing is set from them before it is taken again.

use nalgebra::Vector3;
use rand_chacha::rand_core::Rng;

use super::Fault;
use super::dice::Dice;
use super::observed::CentricStep;
use super::recipe::{CALIPER_STEP_MM, GRADUATION_DEG, Recipe};
use super::subject::{PatientError, Subject, millimetres, rounded, scan_place};
use crate::frame::{JawPose, Side, UpperPoint};
use crate::guide::CondylarGuide;
use crate::record::trial::SeatedRecord;
use crate::record::{
    Case, GrooveGaps, GuideHold, MountingFields, NamedAxis, RecordFields, RecordKind, ScaleReadings,
    SideFields, TrialAngles,
};
use crate::units::{Angle, Length};

/// Closings of one record.
const CLOSINGS: usize = 4;
/// Inclination of a guide as zeroed, at which the first trial is made, in degrees.
const ZEROED_DEG: f64 = 30.0;
/// How far past the closing the second trial is, in degrees.
const PAST_DEG: (f64, f64) = (4.0, 7.0);
/// A guide that is not locked goes on by so much from one closing to the next, in degrees.
const DRIFT_DEG: (f64, f64) = (1.6, 2.2);
/// By how much the inclinations of two records differ where the tissue gives way, in degrees.
const GIVEN_WAY_DEG: (f64, f64) = (5.0, 8.0);
/// A key that stands sideways rides up its flanks, which rise by this (invented).
const FLANK_DEG: f64 = 30.0;
/// Advance is read on the guides to this, in millimetres.
const ADVANCE_STEP: f64 = 0.1;

/// Grooves of the split: behind the incisal point, aside, above it, in millimetres (invented).
const GROOVES_MM: [[f64; 3]; 6] = [
    [64.0, -22.0, 27.0],
    [64.0, 22.0, 27.0],
    [42.0, -26.0, 26.0],
    [42.0, 26.0, 26.0],
    [14.0, -9.0, 25.0],
    [14.0, 9.0, 25.0],
];

/// The case, how far the protrusive record goes on the tracing, and how the split stands on the repeat of
/// the centric record.
pub(super) fn case<R: Rng>(
    dice: &mut Dice<R>,
    recipe: &Recipe,
    subject: &Subject<'_>,
) -> Result<(Case, Length, CentricStep), PatientError> {
    let edge = subject.jaw.incisal_point.coords();
    let grooves: Vec<Vector3<f64>> = GROOVES_MM
        .iter()
        .map(|[behind, y, above]| {
            let off = Vector3::from_fn(|_, _| dice.stepped((-1.5, 1.5), 0.5));
            Vector3::new(edge.x - behind, *y, edge.z + above) + off
        })
        .collect();
    let bench = Bench { recipe, subject, grooves: &grooves };
    let mut records = vec![RecordFields::GrooveGaps(bench.centric(dice)?)];
    let (protruded, way) = subject.protruded(dice)?;
    records.extend(bench.protrusive(dice, &protruded)?);
    records.extend(bench.lateral(dice)?);
    let [forward, left] = subject.off_mm;
    // The secondary base stays where the tentative record had the jaw's true place.
    let step = CentricStep { ahead: Length::from_mm(tenth(-forward)), left: Length::from_mm(tenth(-left)) };
    let places = |points: &[Vector3<f64>]| points.iter().map(scan_place).collect::<Result<Vec<_>, _>>();
    let jaw = subject.jaw;
    let rods = dice.stepped((58.0, 66.0), 0.5);
    let case = Case {
        title: String::new(),
        design: jaw.design,
        intercondylar_distance_mm: Some(millimetres(jaw.intercondylar_distance.mm())?),
        mounting: MountingFields::Named {
            axis: NamedAxis::Located,
            anterior_reference: "lower border of the orbit".to_owned(),
            rods_mm: Some(SideFields {
                right: millimetres(rods)?,
                left: millimetres(rods + dice.stepped((-1.0, 1.0), 0.5))?,
            }),
        },
        lower_landmarks: None,
        records,
        immediate_translation_mm: subject.translations()?,
        split_cast_tolerance_mm: millimetres(recipe.tolerance_mm)?,
        split_cast_grooves_mm: None,
        grooves_mm: Some(places(&grooves)?),
        advance_mm: None,
        guide_hold: Some(GuideHold::Track),
        incisal_point_mm: Some(scan_place(&edge)?),
        occlusal_plane_mm: Some(places(&[
            subject.on_plane(0.0, 0.0),
            subject.on_plane(42.0, -25.0),
            subject.on_plane(42.0, 25.0),
        ])?),
        cusps: subject.cusp_places(scan_place)?,
        anterior_guide: Some(jaw.anterior_guide.clone()),
        incisal_guidance: None,
        casts: None,
        plan: None,
    };
    Ok((case, Length::from_mm(tenth(way.mm())), step))
}

/// A patient's records at the bench.
struct Bench<'p> {
    recipe: &'p Recipe,
    subject: &'p Subject<'p>,
    grooves: &'p [Vector3<f64>],
}

impl Bench<'_> {
    fn centric<R: Rng>(&self, dice: &mut Dice<R>) -> Result<GrooveGaps, PatientError> {
        let [forward, left] = self.subject.off_mm;
        let riding_mm = forward.hypot(left) * FLANK_DEG.to_radians().tan();
        // Whoever presses a split that has closed reads less scatter than at one that stands open.
        let hand_mm = self.recipe.hand_mm * if riding_mm > 0.0 { 1.0 } else { 0.5 };
        let gaps_mm = self.grooves.iter().map(|_| caliper(riding_mm + dice.normal() * hand_mm)).collect();
        Ok(GrooveGaps {
            record: RecordKind::Centric,
            set_at: trial([ZEROED_DEG; 2]),
            gaps_mm,
            aside_mm: None,
            sd_mm: self.caliper_sd()?,
            advance_mm: None,
            opening_deg: 0.0,
            perforated: Some(true),
        })
    }

    fn caliper_sd(&self) -> Result<crate::record::Millimetres, PatientError> {
        millimetres(rounded(self.recipe.hand_mm.hypot(CALIPER_STEP_MM / 12.0_f64.sqrt())))
    }

    fn protrusive<R: Rng>(
        &self,
        dice: &mut Dice<R>,
        pose: &JawPose,
    ) -> Result<Vec<RecordFields>, PatientError> {
        let subject = self.subject;
        let perforated = !subject.has(Fault::UnperforatedProtrusion);
        let past = Side::BOTH.map(|side| {
            let closing = subject.jaw.guide(side).horizontal_inclination.degrees();
            (closing + dice.within(PAST_DEG)).round()
        });
        let mut records = Vec::with_capacity(4);
        for set_deg in [[ZEROED_DEG; 2], past] {
            let gaps = self.gaps(dice, RecordKind::Protrusive, pose, set_deg)?;
            records.push(RecordFields::GrooveGaps(GrooveGaps { perforated: Some(perforated), ..gaps }));
        }
        // Tissue that gives way is pressed deeper in one of the two records.
        let given_way = if subject.has(Fault::ResilientTissue) {
            dice.within(GIVEN_WAY_DEG) * if dice.coin() { 1.0 } else { -1.0 }
        } else {
            0.0
        };
        let drift = dice.within(DRIFT_DEG) * if dice.coin() { 1.0 } else { -1.0 };
        for off in [0.0, given_way] {
            let mut read = |side: Side| {
                let closing = subject.jaw.guide(side).horizontal_inclination.degrees() + off;
                self.scale(dice, closing, if subject.unlocked == Some(side) { drift } else { 0.0 })
            };
            records.push(RecordFields::ScaleReadings(ScaleReadings {
                record: RecordKind::Protrusive,
                right_deg: read(Side::Right),
                left_deg: read(Side::Left),
                graduation_deg: GRADUATION_DEG,
                perforated: Some(perforated),
            }));
        }
        Ok(records)
    }

    fn lateral<R: Rng>(&self, dice: &mut Dice<R>) -> Result<Vec<RecordFields>, PatientError> {
        let subject = self.subject;
        let (mut stood, mut read) = (Vec::with_capacity(2), Vec::with_capacity(2));
        for working in Side::BOTH {
            let moved = subject.lateral(dice, working)?;
            let perforated = Some(subject.perforated(working));
            let taken = match working {
                Side::Right => RecordKind::RightLateral,
                Side::Left => RecordKind::LeftLateral,
            };
            let gaps = self.gaps(dice, taken, &moved, [ZEROED_DEG; 2])?;
            stood.push(GrooveGaps { record: subject.label(working), perforated, ..gaps });
            if subject.has(Fault::SwappedSides) {
                continue;
            }
            let orbiting = working.opposite();
            let readings = self.scale(dice, subject.jaw.guide(orbiting).lateral_angle.degrees(), 0.0);
            let (right_deg, left_deg) = match orbiting {
                Side::Right => (readings, Vec::new()),
                Side::Left => (Vec::new(), readings),
            };
            let graduation_deg = GRADUATION_DEG;
            read.push(ScaleReadings { record: taken, right_deg, left_deg, graduation_deg, perforated });
        }
        // The right one first whatever it shows, so that their order tells nothing.
        stood.sort_by_key(|gaps| gaps.record);
        let stood = stood.into_iter().map(RecordFields::GrooveGaps);
        Ok(stood.chain(read.into_iter().map(RecordFields::ScaleReadings)).collect())
    }

    /// Gaps at the grooves with the guides set so, the wings swung clear.
    fn gaps<R: Rng>(
        &self,
        dice: &mut Dice<R>,
        taken: RecordKind,
        pose: &JawPose,
        set_deg: [f64; 2],
    ) -> Result<GrooveGaps, PatientError> {
        let jaw = self.subject.jaw;
        let record = SeatedRecord::of_pose(taken, pose, jaw.design, jaw.intercondylar_distance);
        let [right, left] = Side::BOTH.map(|side| CondylarGuide {
            horizontal_inclination: Angle::from_degrees(set_deg[side as usize]),
            ..jaw.guide(side).clone()
        });
        let grooves: Vec<UpperPoint> = self.grooves.iter().map(|at| UpperPoint::from_coords(*at)).collect();
        let found = record.gaps([&right, &left], &grooves, GuideHold::Track)?;
        let hand_mm = self.recipe.hand_mm;
        let advance = |side| {
            let advance = record.condyle(side).advance.mm();
            millimetres(rounded((advance / ADVANCE_STEP).round().max(0.0) * ADVANCE_STEP))
        };
        Ok(GrooveGaps {
            record: taken,
            set_at: trial(set_deg),
            gaps_mm: found.gaps.iter().map(|gap| caliper(gap.mm() + dice.normal() * hand_mm)).collect(),
            aside_mm: None,
            sd_mm: self.caliper_sd()?,
            advance_mm: Some(SideFields { right: advance(Side::Right)?, left: advance(Side::Left)? }),
            opening_deg: 0.0,
            perforated: None,
        })
    }

    /// What a scale reads whenever the split closes, in whole degrees.
    fn scale<R: Rng>(&self, dice: &mut Dice<R>, closing_deg: f64, drift_deg: f64) -> Vec<f64> {
        let read = |closing: usize| {
            let drifted = closing_deg + drift_deg * closing as f64 + dice.normal() * self.recipe.closing_deg;
            (drifted / GRADUATION_DEG).round() * GRADUATION_DEG
        };
        (0..CLOSINGS).map(read).collect()
    }
}

fn trial([right_deg, left_deg]: [f64; 2]) -> TrialAngles {
    TrialAngles { right_deg, left_deg, right_lateral_deg: None, left_lateral_deg: None }
}

/// What a caliper shows.
fn caliper(gap_mm: f64) -> f64 {
    rounded((gap_mm.max(0.0) / CALIPER_STEP_MM).round() * CALIPER_STEP_MM)
}

/// Rounded to a tenth of a millimetre, without a minus before nothing.
fn tenth(mm: f64) -> f64 {
    (mm * 10.0).round() / 10.0 + 0.0
}
