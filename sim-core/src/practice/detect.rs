//! What a deal shows of its faults to whoever looks.

use super::patient::Patient;
use super::{Direction, Fault, Form};
use crate::frame::Side;
use crate::instrument::{Baseline, Instrument};
use crate::record::from_gaps::GapFitError;
use crate::record::program::{ProgramError, Programmed};
use crate::record::settings::UnreadableAngle;
use crate::record::warning::{SHORT_PROTRUSION_MM, Warning};
use crate::record::{Case, RecordFields, RecordKind, ScaleReadings};
use crate::setting::check_zeroed;
use crate::tracing::{Objection, PARALLEL_WITHIN, Recorded, USUAL_RADIUS, examine};

/// Readings of a scale at closings of one record lie within this, and so do the means of two records
/// (common practice, no source).
const WITHIN_DEG: f64 = 3.0;

/// Faults seen, and how much is seen that is none of them.
#[derive(Default)]
struct Seen {
    faults: Vec<Fault>,
    others: usize,
}

impl Seen {
    fn note(&mut self, shows: bool, fault: Fault) {
        if shows {
            self.faults.push(fault);
        }
    }
}

/// The faults that a patient's records, tracing and instrument show to whoever works them through. `None`
/// where the case cannot be worked through, where anything else is warned of, and where a centric record
/// is off in no direction that could be named: what is dealt has the faults asked for and nothing else to
/// stumble over.
pub(super) fn shown(patient: &Patient, form: Form) -> Option<Vec<Fault>> {
    let mut seen = Seen::default();
    of_the_instrument(&patient.instrument.instrument, &mut seen);
    seen.note(patient.observed.plate_tilt > PARALLEL_WITHIN, Fault::TippedPlate);
    let way = patient.observed.protrusive_on_tracing;
    seen.note(way.is_some_and(|way| way.mm() < SHORT_PROTRUSION_MM), Fault::ShortProtrusion);
    of_the_scales(&patient.case, &mut seen);
    of_the_records(patient, form, &mut seen)?;
    if seen.others > 0 {
        return None;
    }
    // Last, since it takes longest.
    of_the_tracing(&patient.tracing, &mut seen)?;
    seen.faults.sort_unstable();
    seen.faults.dedup();
    (seen.others == 0).then_some(seen.faults)
}

fn of_the_instrument(instrument: &Instrument, seen: &mut Seen) {
    for departure in check_zeroed(instrument, &Baseline::example()) {
        if departure.side.is_some() {
            seen.faults.push(Fault::UnzeroedGuide);
        } else if departure.key == Instrument::PIN_EXTENSION.facts.key {
            seen.faults.push(Fault::PinNotFlush);
        } else if departure.key.contains("wing") {
            seen.faults.push(Fault::WingNotZeroed);
        } else {
            seen.others += 1;
        }
    }
}

fn of_the_tracing(tracing: &Recorded, seen: &mut Seen) -> Option<()> {
    for objection in examine(tracing, USUAL_RADIUS).ok()?.objections() {
        match objection {
            Objection::Double(_) => seen.faults.push(Fault::DoubleTracing),
            Objection::Rounded(_) | Objection::Unclear(_) => seen.others += 1,
        }
    }
    Some(())
}

/// Readings that scatter within a record are of a guide that is not locked, records that differ of tissue
/// that gives way.
fn of_the_scales(case: &Case, seen: &mut Seen) {
    let readings = |kind| {
        case.records.iter().filter_map(move |record| match record {
            RecordFields::ScaleReadings(readings) if readings.record == kind => Some(readings),
            _ => None,
        })
    };
    for side in Side::BOTH {
        let means = readings(RecordKind::Protrusive).map(|record| mean(record.of(side)));
        seen.note(spread(means) > WITHIN_DEG, Fault::ResilientTissue);
        let is_loose = |record: &ScaleReadings| spread(record.of(side).iter().copied()) > WITHIN_DEG;
        seen.note(readings(RecordKind::Protrusive).any(is_loose), Fault::UnlockedGuide);
        for kind in [RecordKind::RightLateral, RecordKind::LeftLateral] {
            seen.others += readings(kind).filter(|record| is_loose(record)).count();
        }
    }
}

/// The mean of readings.
pub(super) fn mean(readings: &[f64]) -> f64 {
    readings.iter().sum::<f64>() / readings.len().max(1) as f64
}

fn spread(numbers: impl Iterator<Item = f64>) -> f64 {
    let (least, most) = numbers
        .fold((f64::INFINITY, f64::NEG_INFINITY), |(least, most), one| (least.min(one), most.max(one)));
    (most - least).max(0.0)
}

fn of_the_records(patient: &Patient, form: Form, seen: &mut Seen) -> Option<()> {
    let exchanged = wrong_condyles(&patient.case);
    seen.note(exchanged, Fault::SwappedSides);
    let done = match patient.case.program() {
        Ok(done) => done,
        Err(why) if stayed(&why) => {
            seen.faults.push(Fault::SwappedSides);
            swapped(&patient.case).program().ok()?
        }
        Err(_) => return None,
    };
    if let Some(check) = done.centric.as_ref().filter(|check| !check.confirmed) {
        seen.faults.push(Fault::WrongCentric);
        let off = match patient.observed.centric_step {
            Some(step) => [-step.ahead.mm(), -step.left.mm()],
            None => [-check.shift_mm.x, -check.shift_mm.y],
        };
        if Direction::of(off) != patient.centric_off {
            return None;
        }
    }
    for warning in &done.warnings {
        match warning {
            Warning::ShortProtrusion { .. } => seen.faults.push(Fault::ShortProtrusion),
            Warning::WrongCondyle { .. } => seen.faults.push(Fault::SwappedSides),
            Warning::NotPerforated { kind: RecordKind::Protrusive, .. } => {
                seen.faults.push(Fault::UnperforatedProtrusion);
            }
            Warning::NotPerforated { kind: RecordKind::RightLateral | RecordKind::LeftLateral, .. } => {
                seen.faults.push(Fault::UnperforatedLateral);
            }
            // One landmark in some thousands is that far off by chance; it is part of the noise.
            Warning::BadLandmark { .. } => {}
            // Nothing is read on a scale of lateral records that are labelled with the wrong sides.
            Warning::ByRule { .. } if form == Form::Bench && exchanged => {}
            _ => seen.others += 1,
        }
    }
    seen.others += usize::from(!agrees(&patient.case, &done, seen));
    Some(())
}

/// With the sides swapped the condyle that is read has stayed where it was.
const fn stayed(why: &ProgramError) -> bool {
    matches!(
        why,
        ProgramError::Unreadable { why: UnreadableAngle::NoAdvance { .. }, .. }
            | ProgramError::Gaps(GapFitError::Unreadable(UnreadableAngle::NoAdvance { .. }))
    )
}

/// Whether in a lateral record at the bench the sphere that should stay has advanced most.
fn wrong_condyles(case: &Case) -> bool {
    case.records.iter().any(|record| match record {
        RecordFields::GrooveGaps(gaps) => match (gaps.record.orbiting(), gaps.advance_mm) {
            (Some(orbiting), Some(advance)) => advance.of(orbiting.opposite()) > advance.of(orbiting),
            _ => false,
        },
        _ => false,
    })
}

/// Whether gaps and scales say the same of a guide that is locked, within half of what repeats may: two
/// ways to one angle that part are one more thing to stumble over.
fn agrees(case: &Case, done: &Programmed, seen: &Seen) -> bool {
    let unsure = [Fault::UnlockedGuide, Fault::ResilientTissue];
    if seen.faults.iter().any(|fault| unsure.contains(fault)) {
        return true;
    }
    let Some(gaps) = &done.gaps else { return true };
    Side::BOTH.into_iter().all(|side| {
        let on_scales = protrusive_readings(case, side);
        gaps.horizontal_inclination[side]
            .as_ref()
            .is_none_or(|read| (read.value.degrees() - mean(&on_scales)).abs() <= WITHIN_DEG / 2.0)
    })
}

/// What the scale of a guide read whenever the split closed on a protrusive record, in degrees.
pub(super) fn protrusive_readings(case: &Case, side: Side) -> Vec<f64> {
    case.records
        .iter()
        .filter_map(|record| match record {
            RecordFields::ScaleReadings(readings) if readings.record == RecordKind::Protrusive => {
                Some(readings.of(side))
            }
            _ => None,
        })
        .flatten()
        .copied()
        .collect()
}

/// The case with its lateral records labelled the other way round.
pub(super) fn swapped(case: &Case) -> Case {
    let mut swapped = case.clone();
    for record in &mut swapped.records {
        *record = match record.clone() {
            RecordFields::RightLateral(pose) => RecordFields::LeftLateral(pose),
            RecordFields::LeftLateral(pose) => RecordFields::RightLateral(pose),
            RecordFields::GrooveGaps(mut gaps) => {
                gaps.record = match gaps.record {
                    RecordKind::RightLateral => RecordKind::LeftLateral,
                    RecordKind::LeftLateral => RecordKind::RightLateral,
                    other => other,
                };
                RecordFields::GrooveGaps(gaps)
            }
            other => other,
        };
    }
    swapped
}
