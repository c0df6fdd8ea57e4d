//! Looks for what to doubt in a programmed case.

use super::case::{Case, MountingFields, NamedAxis, RecordFields, SIX_GROOVES};
use super::from_gaps::GapFit;
use super::front::Front;
use super::kind::RecordKind;
use super::mounting::{self, Mounting};
use super::program_error::ProgramError;
use super::read_record::ReadRecord;
use super::settings::{SideSettings, Source};
use super::split_cast::SplitCast;
use super::warning::{
    GuideAngle, SHORT_PROTRUSION_MM, UNEQUAL_ADVANCE_MM, USUAL_INCLINATION_DEG, USUAL_LATERAL_DEG, Warning,
};
use crate::frame::Side;
use crate::units::Length;

/// What is printed as the least that is not short is not called short.
const PRINTED_MM: f64 = 0.005;
/// Rods that read so unlike are not those of a bow in the middle (common practice, no source).
const UNEQUAL_RODS_MM: f64 = 3.0;
/// A landmark is said to fit badly past so many standard deviations of its misfit: one in some
/// fifteen thousand does by chance.
const BAD_FIT_DEVIATIONS: f64 = 4.0;

/// Everything to doubt in a case, records first.
///
/// # Errors
/// [`ProgramError::Scene`] where a protrusive record cannot be measured for want of a plane.
pub(super) fn warnings(
    case: &Case,
    mounting: &Mounting,
    records: &[ReadRecord],
    centric: Option<&SplitCast>,
    gaps: Option<&GapFit>,
    settings: Option<&[SideSettings; 2]>,
) -> Result<Vec<Warning>, ProgramError> {
    let mut found = Vec::new();
    if centric.is_none() {
        found.push(Warning::Unconfirmed);
    }
    if matches!(case.mounting, MountingFields::Average { .. }) {
        found.push(Warning::AverageMounting {
            arm: mounting::arm_deviation(),
            balkwill: mounting::balkwill_deviation(),
        });
    }
    of_the_bow(&case.mounting, &mut found);
    if case.has_grooves() && case.groove_places().is_some_and(|places| places.len() < SIX_GROOVES.len()) {
        found.push(Warning::FewGrooves { given: case.groove_places().map_or(0, <[_]>::len) });
    }
    for (index, (record, given)) in records.iter().zip(&case.records).enumerate() {
        if record.kind == RecordKind::Protrusive {
            protrusion(index, record, &Front::of(case, mounting)?, &mut found);
        }
        of_record(index, record, &mut found);
        if let Some(landmarks) = &case.lower_landmarks {
            bad_landmarks(index, record, landmarks.sd_mm.length(), &mut found);
        }
        of_the_bench(index, given, gaps, &mut found);
    }
    for (side, own) in Side::BOTH.into_iter().zip(settings.into_iter().flatten()) {
        let usual = [
            (GuideAngle::HorizontalInclination, &own.horizontal_inclination, USUAL_INCLINATION_DEG),
            (GuideAngle::LateralAngle, &own.lateral_angle, USUAL_LATERAL_DEG),
        ];
        for (setting, read, usual_deg) in usual {
            let angle = read.angle.value;
            if angle.degrees() < usual_deg.0 || angle.degrees() > usual_deg.1 {
                found.push(Warning::Unusual { side, setting, angle, usual_deg });
            }
        }
        if own.lateral_angle.from == Source::Rule {
            found.push(Warning::ByRule { side });
        }
    }
    Ok(found)
}

fn of_the_bow(mounting: &MountingFields, found: &mut Vec<Warning>) {
    let MountingFields::Named { axis, rods_mm, .. } = mounting else { return };
    if matches!(axis, NamedAxis::Arbitrary(_)) {
        found.push(Warning::AxisByRule);
    }
    if let Some(rods) = rods_mm {
        let (right, left) = (rods.of(Side::Right), rods.of(Side::Left));
        if (right - left).mm().abs() > UNEQUAL_RODS_MM {
            found.push(Warning::UnequalRods { right, left });
        }
    }
}

fn of_the_bench(record: usize, given: &RecordFields, gaps: Option<&GapFit>, found: &mut Vec<Warning>) {
    if given.perforated() == Some(false) {
        found.push(Warning::NotPerforated { record, kind: given.kind() });
    }
    if let RecordFields::ScaleReadings(readings) = given {
        let once = Side::BOTH.into_iter().filter(|side| readings.of(*side).len() == 1);
        found.extend(once.map(|side| Warning::ReadOnce { record, side }));
    }
    let of_this = |fit: &GapFit| fit.records.iter().find(|fitted| fitted.record == record).cloned();
    if let Some(fitted) = gaps.and_then(of_this) {
        // Three of the numbers are spent on the two angles and the turn.
        let free = fitted.residuals.len().saturating_sub(3) as f64;
        let expected = Length::from_mm(fitted.sd.mm() * (free / fitted.residuals.len().max(1) as f64).sqrt());
        // The root mean square of n normal numbers is off by 1/√(2n) of itself.
        if free > 0.0 && fitted.rms().mm() > expected.mm() * (1.0 + BAD_FIT_DEVIATIONS / (2.0 * free).sqrt())
        {
            found.push(Warning::GapsUnlike { record, left: fitted.rms(), expected });
        }
    }
}

fn of_record(record: usize, read: &ReadRecord, found: &mut Vec<Warning>) {
    let Some(reading) = &read.reading else { return };
    let (right, left) = (reading.right.advance, reading.left.advance);
    let orbiting = match read.kind {
        RecordKind::Centric => return,
        RecordKind::Protrusive => {
            if (right - left).mm().abs() > UNEQUAL_ADVANCE_MM {
                found.push(Warning::UnequalAdvance { record, right, left });
            }
            return;
        }
        RecordKind::RightLateral => Side::Left,
        RecordKind::LeftLateral => Side::Right,
    };
    let (orbiting, working) =
        (reading.condyle(orbiting).advance, reading.condyle(orbiting.opposite()).advance);
    if working > orbiting {
        found.push(Warning::WrongCondyle { record, kind: read.kind, orbiting, working });
    }
}

fn protrusion(record: usize, read: &ReadRecord, front: &Front, found: &mut Vec<Warning>) {
    let Some(reading) = &read.reading else { return };
    let distance = front.distance(&reading.jaw);
    if distance.mm() < SHORT_PROTRUSION_MM - PRINTED_MM {
        let (right, left) = (reading.right.advance, reading.left.advance);
        found.push(Warning::ShortProtrusion { record, distance, right, left });
    }
}

/// A misfit is that of two measured points less what the fit takes up of it: with n landmarks six of
/// 3n numbers are spent, so its mean square is 3·2σ²·(1 − 2/n).
fn bad_landmarks(record: usize, read: &ReadRecord, sd: Length, found: &mut Vec<Warning>) {
    let count = read.residuals.len() as f64;
    let expected = sd.mm() * (6.0 * (1.0 - 2.0 / count)).max(0.0).sqrt();
    let limit = sd.mm() * (BAD_FIT_DEVIATIONS * std::f64::consts::SQRT_2);
    for (landmark, misfit) in read.residuals.iter().enumerate() {
        if misfit.mm() > limit.max(1e-6) {
            found.push(Warning::BadLandmark {
                record,
                landmark,
                misfit: *misfit,
                expected: Length::from_mm(expected),
            });
        }
    }
}
