//! What no field of a plan can tell by itself.

use super::error::{MOST_FREE, PlanError};
use super::factor::Factor;
use super::goal::{Balance, Clearances, Free, Goal, Moulds, Plan};
use crate::anterior::AnteriorGuide;
use crate::cusp::{Cusp, Tooth};
use crate::frame::Side;
use crate::guide::GuidePath;
use crate::instrument::Instrument;

/// Greatest inclination of a mould, in degrees.
const STEEPEST_MOULD_DEG: f64 = 60.0;

impl Plan {
    /// Checks the goal against itself, the instrument and the cusps of its scene.
    ///
    /// # Errors
    /// The first thing found wrong, with what would be accepted.
    pub fn check(&self, instrument: &Instrument, cusps: &[Cusp]) -> Result<(), PlanError> {
        if matches!(instrument.anterior_guide, AnteriorGuide::CustomTable(_)) {
            return Err(PlanError::FormedTable);
        }
        match &self.goal {
            None => Ok(()),
            Some(Goal::BalancedArticulation(goal)) => goal.check(instrument),
            Some(Goal::Disclusion(goal)) => goal.check(instrument, cusps),
        }
    }
}

impl Balance {
    pub(super) fn check(&self, instrument: &Instrument) -> Result<(), PlanError> {
        let front = |tooth: &&Tooth| !matches!(tooth.position(), 4..=7);
        if let Some(tooth) = self.teeth.iter().find(front) {
            return Err(PlanError::NotABackTooth { tooth: *tooth });
        }
        check_free(&self.free, instrument)
    }
}

impl Clearances {
    pub(super) fn check(&self, instrument: &Instrument, cusps: &[Cusp]) -> Result<(), PlanError> {
        if self.clearances.is_empty() {
            return Err(PlanError::NothingWanted);
        }
        for wanted in &self.clearances {
            if !cusps.iter().any(|cusp| wanted.is_at(cusp)) {
                let known = cusps.iter().map(|cusp| format!("{} \"{}\"", cusp.tooth(), cusp.name()));
                let known: Vec<String> = known.collect();
                let known = match known.as_slice() {
                    [] => "it watches none".to_owned(),
                    some => format!("it watches {}", some.join(", ")),
                };
                return Err(PlanError::NoSuchCusp { tooth: wanted.tooth, name: wanted.name.clone(), known });
            }
        }
        for free in &self.free {
            let no_part = match free {
                Free::OcclusalPlane(_) | Free::CompensatingCurve(_) | Free::CuspMould(_) => true,
                Free::CondylarGuidance(_)
                | Free::IncisalGuidance(_)
                | Free::LateralIncisalGuidance(_)
                | Free::RightLateralIncisalGuidance(_)
                | Free::LeftLateralIncisalGuidance(_)
                | Free::CuspInclination(_) => false,
            };
            if no_part {
                return Err(PlanError::NoPart {
                    factor: free.factor().label(),
                    goal: "Disclusion",
                    allowed: "the incisal guidances, CondylarGuidance and CuspInclination",
                });
            }
        }
        check_free(&self.free, instrument)
    }
}

fn check_free(free: &[Free], instrument: &Instrument) -> Result<(), PlanError> {
    if free.len() > MOST_FREE {
        return Err(PlanError::TooManyFree { given: free.len() });
    }
    for (index, own) in free.iter().enumerate() {
        let factor = own.factor();
        if free[..index].iter().any(|other| overlap(other.factor(), factor)) {
            return Err(PlanError::FactorTwice { factor: factor.label() });
        }
        if factor == Factor::CondylarGuidance {
            for side in Side::BOTH {
                if matches!(instrument.guide(side).path, GuidePath::Profile(_)) {
                    return Err(PlanError::Profiled { side });
                }
            }
        }
        match own {
            Free::CondylarGuidance(range)
            | Free::IncisalGuidance(range)
            | Free::LateralIncisalGuidance(range)
            | Free::RightLateralIncisalGuidance(range)
            | Free::LeftLateralIncisalGuidance(range)
            | Free::OcclusalPlane(range)
            | Free::CuspInclination(range) => {
                let (least_deg, most_deg) = (range.least.degrees(), range.most.degrees());
                if least_deg > most_deg {
                    return Err(PlanError::Bounds { factor: factor.label(), least_deg, most_deg });
                }
            }
            Free::CuspMould(moulds) => moulds.check()?,
            Free::CompensatingCurve(_) => {}
        }
    }
    Ok(())
}

/// Whether two factors change the same thing.
fn overlap(one: Factor, other: Factor) -> bool {
    let wings =
        |factor| matches!(factor, Factor::RightLateralIncisalGuidance | Factor::LeftLateralIncisalGuidance);
    one == other
        || (one == Factor::LateralIncisalGuidance && wings(other))
        || (other == Factor::LateralIncisalGuidance && wings(one))
}

impl Moulds {
    fn check(&self) -> Result<(), PlanError> {
        let wrong = |what: String| Err(PlanError::Moulds { what });
        if self.inclinations_deg.is_empty() {
            return wrong("it is empty".to_owned());
        }
        match self.inclinations_deg.iter().find(|angle| !(0.0..=STEEPEST_MOULD_DEG).contains(*angle)) {
            Some(angle) => wrong(format!("it has {angle}")),
            None => Ok(()),
        }
    }
}
