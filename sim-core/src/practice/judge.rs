//! How a setting is judged: against what stands behind it, the truth and what the records allow.

use super::detect::{mean, protrusive_readings, swapped};
use super::{Answer, Deal, Fault, Form, SettingOutcome, Verdict};
use crate::facts::Facts;
use crate::frame::Side;
use crate::guide::CondylarGuide;
use crate::record::RecordFields;
use crate::record::program::{ProgramError, Programmed, ReadAngle};
use crate::units::Angle;

/// Half a graduation of a scale in single degrees: as near as a setting can be read or set (common
/// practice, no source).
const HALF_GRADUATION_DEG: f64 = 0.5;
/// Beyond the band, so many degrees lose all of a setting's points.
const LOST_OVER_DEG: f64 = 5.0;
/// The records allow what is within so many standard errors of the truth.
const BAND_ERRORS: f64 = 2.0;

/// How a fault stands behind a setting.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Behind {
    /// The setting must not be made before the record is taken again.
    Bars,
    /// The record serves once it is put right; whoever would rather take it again is right too.
    Mendable,
}

/// What the records of a deal give, rightly labelled.
pub(super) struct Given<'d> {
    deal: &'d Deal,
    done: Programmed,
    /// Side whose lateral angle rests on a lateral record that is not perforated.
    unperforated: Option<Side>,
}

impl<'d> Given<'d> {
    pub(super) fn of(deal: &'d Deal) -> Result<Self, ProgramError> {
        let is_swapped = deal.key.faults.contains(&Fault::SwappedSides);
        let rightly = if is_swapped { swapped(&deal.case) } else { deal.case.clone() };
        let through_nothing = |record: &&RecordFields| record.perforated() == Some(false);
        let unperforated =
            rightly.records.iter().filter(through_nothing).find_map(|record| record.kind().orbiting());
        Ok(Self { deal, done: rightly.program()?, unperforated })
    }

    pub(super) const fn has_settings(&self) -> bool {
        self.done.settings.is_some()
    }

    /// What the records give for a setting; `None` where they do not.
    pub(super) fn read(&self, side: Side, setting: &'static Facts) -> Option<&ReadAngle> {
        let own = self.done.side(side)?;
        let programmed =
            if is_inclination(setting) { &own.horizontal_inclination } else { &own.lateral_angle };
        // By the rule for want of a record is not by the records.
        (programmed.angle.records > 0).then_some(&programmed.angle)
    }

    /// Every way to the setting that a student may go: all records together, and at the bench the scale or
    /// the gaps alone.
    fn ways(&self, side: Side, setting: &'static Facts) -> Vec<ReadAngle> {
        let mut ways: Vec<ReadAngle> = self.read(side, setting).cloned().into_iter().collect();
        if is_inclination(setting) && self.deal.key.form == Form::Bench {
            ways.extend(self.done.gaps.as_ref().and_then(|gaps| gaps.horizontal_inclination[side].clone()));
            let readings = protrusive_readings(&self.deal.case, side);
            ways.extend(
                ways.first()
                    .cloned()
                    .map(|all| ReadAngle { value: Angle::from_degrees(mean(&readings)), ..all }),
            );
        }
        ways
    }

    pub(super) fn judged(
        &self,
        side: Side,
        setting: &'static Facts,
        (given, truth): (Option<Angle>, Angle),
        answer: &Answer,
    ) -> SettingOutcome {
        let behind: Vec<(Fault, Behind)> = self
            .deal
            .key
            .faults
            .iter()
            .filter_map(|fault| Some((*fault, self.behind(*fault, side, setting)?)))
            .collect();
        let bars = behind.iter().any(|(_, how)| *how == Behind::Bars);
        let rejected = behind.iter().any(|(fault, _)| answer.verdicts.on(fault.check()) == Verdict::Rejected);
        match given {
            Some(_) if bars => SettingOutcome::FromFaulty,
            None if rejected => SettingOutcome::Withheld,
            None if bars => SettingOutcome::NotSaid,
            None => SettingOutcome::NotGiven,
            Some(given) => nearness(given, truth, &self.ways(side, setting)),
        }
    }

    /// How a fault stands behind a setting; `None` where the setting does not rest on what is at fault.
    fn behind(&self, fault: Fault, side: Side, setting: &'static Facts) -> Option<Behind> {
        let inclination = is_inclination(setting);
        let (rests, how) = match fault {
            Fault::DoubleTracing | Fault::TippedPlate | Fault::WrongCentric => (true, Behind::Bars),
            Fault::ShortProtrusion | Fault::UnperforatedProtrusion | Fault::ResilientTissue => {
                (inclination, Behind::Bars)
            }
            Fault::UnlockedGuide => (inclination && self.deal.unlocked() == Some(side), Behind::Bars),
            Fault::UnperforatedLateral => (!inclination && self.unperforated == Some(side), Behind::Bars),
            Fault::SwappedSides => match self.deal.key.form {
                Form::Coordinates => (!inclination, Behind::Mendable),
                // The guides that the labels name closed nothing, and no scale was read.
                Form::Bench => (!inclination, Behind::Bars),
            },
            Fault::UnzeroedGuide | Fault::PinNotFlush | Fault::WingNotZeroed => return None,
        };
        rests.then_some(how)
    }
}

fn is_inclination(setting: &'static Facts) -> bool {
    setting.key == CondylarGuide::HORIZONTAL_INCLINATION.facts.key
}

/// How near what is given is to one of the ways to read it, or to the truth.
fn nearness(given: Angle, truth: Angle, ways: &[ReadAngle]) -> SettingOutcome {
    let off_read = ways.iter().map(|way| (given - way.value).degrees().abs()).fold(f64::INFINITY, f64::min)
        - HALF_GRADUATION_DEG;
    let errors = ways.iter().filter_map(|way| way.standard_error).map(Angle::degrees);
    let error = errors.fold(0.0, f64::max);
    let off_truth = (given - truth).degrees().abs() - (BAND_ERRORS * error).max(HALF_GRADUATION_DEG);
    // What rounding adds to half a graduation is none.
    if off_read <= 1e-9 {
        SettingOutcome::AsRead
    } else if off_truth <= 1e-9 {
        SettingOutcome::WithinBand
    } else {
        SettingOutcome::Off { beyond: Angle::from_degrees(off_read.min(off_truth)) }
    }
}

/// The part of a setting's points that an outcome is worth.
pub(super) fn share(outcome: SettingOutcome) -> f64 {
    match outcome {
        SettingOutcome::AsRead | SettingOutcome::WithinBand | SettingOutcome::Withheld => 1.0,
        SettingOutcome::Off { beyond } => (1.0 - beyond.degrees() / LOST_OVER_DEG).max(0.0),
        SettingOutcome::NotGiven | SettingOutcome::FromFaulty | SettingOutcome::NotSaid => 0.0,
    }
}
