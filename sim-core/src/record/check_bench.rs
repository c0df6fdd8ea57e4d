//! Whether a record as the bench has it makes sense.

use super::bench_record::{GrooveGaps, ScaleReadings};
use super::fields::SideFields;
use super::kind::RecordKind;
use super::senseless::SenselessCase;
use crate::facts::Facts;
use crate::frame::Side;
use crate::guide::CondylarGuide;

/// No scale is coarser, in degrees.
const COARSEST_DEG: f64 = 10.0;
/// No key seats at all with more between its halves, nor with more of a step, in millimetres.
const MOST_GAP_MM: f64 = 20.0;
/// No caliper is read more exactly, or more coarsely, in millimetres.
const CALIPER_MM: (f64, f64) = (0.001, 5.0);
/// No record is thicker at the front than this turn about the axis, in degrees.
const MOST_OPENING_DEG: f64 = 30.0;

/// The setting that a record of this kind shows on a scale.
const fn scale(record: RecordKind) -> &'static Facts {
    match record {
        RecordKind::Centric | RecordKind::Protrusive => &CondylarGuide::HORIZONTAL_INCLINATION.facts,
        RecordKind::RightLateral | RecordKind::LeftLateral => &CondylarGuide::LATERAL_ANGLE.facts,
    }
}

pub(super) fn readings(index: usize, given: &ScaleReadings) -> Result<(), SenselessCase> {
    let wrong = |field: &'static str, why: String| {
        Err(SenselessCase::Bench { index, kind: given.record.words(), field, why })
    };
    if given.record == RecordKind::Centric {
        return wrong("record", "a centric record sets no scale; give the gaps at its grooves".to_owned());
    }
    if !(given.graduation_deg > 0.0 && given.graduation_deg <= COARSEST_DEG) {
        let why = format!(
            "graduation_deg is {}; allowed are more than 0 to {COARSEST_DEG} degrees",
            given.graduation_deg
        );
        return wrong("graduation_deg", why);
    }
    for (side, field) in Side::BOTH.into_iter().zip(["right_deg", "left_deg"]) {
        let readings = given.of(side);
        let is_set = given.record.orbiting().is_none_or(|orbiting| orbiting == side);
        if !is_set && !readings.is_empty() {
            let why = format!(
                "{field} is given, and the {side} condyle is the working one, whose guide this record does not set"
            );
            return wrong(field, why);
        }
        for reading in readings {
            if let Err(why) = scale(given.record).check(*reading) {
                return wrong(field, format!("{field}: {why}"));
            }
        }
    }
    if given.right_deg.is_empty() && given.left_deg.is_empty() {
        return wrong("record", "no reading is given; give right_deg, left_deg or both".to_owned());
    }
    Ok(())
}

pub(super) fn gaps(
    index: usize,
    given: &GrooveGaps,
    grooves: usize,
    of_the_case: Option<SideFields>,
) -> Result<(), SenselessCase> {
    let wrong = |field: &'static str, why: String| {
        Err(SenselessCase::Bench { index, kind: given.record.words(), field, why })
    };
    let aside = given.aside_mm.iter().map(|steps| ("aside_mm", steps));
    for (field, list) in [("gaps_mm", &given.gaps_mm)].into_iter().chain(aside) {
        if list.len() != grooves || grooves == 0 {
            let why = format!(
                "{field} has {} numbers, and the case names {grooves} grooves (grooves_mm or split_cast_grooves_mm); \
                 one for each, in the same order, is needed",
                list.len()
            );
            return wrong(field, why);
        }
        let least = if field == "gaps_mm" { 0.0 } else { -MOST_GAP_MM };
        if let Some(place) = list.iter().position(|gap| !(least..=MOST_GAP_MM).contains(gap)) {
            let why = format!(
                "number {} of {field} is {}; allowed are {least} to {MOST_GAP_MM} mm",
                place + 1,
                list[place]
            );
            return wrong(field, why);
        }
    }
    let sd = given.sd_mm.length().mm();
    if !(CALIPER_MM.0..=CALIPER_MM.1).contains(&sd) {
        let why = format!("sd_mm is {sd}; allowed are {} to {} mm", CALIPER_MM.0, CALIPER_MM.1);
        return wrong("sd_mm", why);
    }
    if !(-MOST_OPENING_DEG..=MOST_OPENING_DEG).contains(&given.opening_deg) {
        let why = format!("opening_deg is {}; allowed are ±{MOST_OPENING_DEG} degrees", given.opening_deg);
        return wrong("opening_deg", why);
    }
    let names = [("right_deg", "right_lateral_deg"), ("left_deg", "left_lateral_deg")];
    for (side, (inclination, lateral)) in Side::BOTH.into_iter().zip(names) {
        let facts = &CondylarGuide::HORIZONTAL_INCLINATION.facts;
        if let Err(why) = facts.check(given.set_at.inclination_deg(side)) {
            return wrong("set_at", format!("{inclination}: {why}"));
        }
        let set = given.set_at.lateral_deg(side);
        if let Some(Err(why)) = set.map(|set| CondylarGuide::LATERAL_ANGLE.facts.check(set)) {
            return wrong("set_at", format!("{lateral}: {why}"));
        }
        if given.aside_mm.is_some() && given.record.orbiting() == Some(side) && set.is_none() {
            let why =
                format!("aside_mm needs the lateral angle that the {side} guide is set to: set_at.{lateral}");
            return wrong("set_at", why);
        }
    }
    if given.aside_mm.is_some() && given.record.orbiting().is_none() {
        let why = "aside_mm belongs to a lateral record: in any other no medial wall guides".to_owned();
        return wrong("aside_mm", why);
    }
    if given.record != RecordKind::Centric && given.advance_mm.or(of_the_case).is_none() {
        let why =
            "advance_mm is missing, here and in the case: how far the spheres stand forward in the record, \
                   read on the guides"
                .to_owned();
        return wrong("advance_mm", why);
    }
    Ok(())
}
