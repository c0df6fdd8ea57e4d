//! Clearances wanted, made ready to be asked of set-ups.

use super::arch::ArchForm;
use super::error::PlanError;
use super::factor::{Factor, Setup, with};
use super::goal::{AngleRange, Clearances, Free, Meeting, Wanted, Weight};
use super::passage::{FromRest, Passage, Role, moved};
use super::solve::{self, Solution, Unknown, Want};
use crate::cusp::{Cusp, CuspReading, Gauges, OpposingInclines, Tooth};
use crate::frame::OcclusalPlane;
use crate::instrument::Instrument;
use crate::units::{Angle, Length};

/// A way less than this does not run onto an incline, in millimetres.
const ONTO_MM: f64 = 1e-6;

/// The steepest opposing incline at which a cusp still has its clearance in every pose asked for, with
/// the guidance as planned.
#[derive(Clone, Debug, PartialEq)]
pub struct Allowance {
    /// The tooth.
    pub tooth: Tooth,
    /// The cusp's name.
    pub name: String,
    /// As the cusp stands, and at most; none where the cusp never goes that way, or no incline will do.
    pub inclines: [(&'static str, Angle, Option<Angle>); 4],
}

impl Wanted {
    /// Whether a cusp is meant.
    pub(super) fn is_at(&self, cusp: &Cusp) -> bool {
        cusp.tooth() == self.tooth && self.name.as_ref().is_none_or(|name| name == cusp.name())
    }
}

/// A clearance to be read.
pub(super) struct Reading {
    pub(super) cusp: usize,
    pub(super) role: Role,
    pub(super) advance: Length,
    pub(super) wanted_mm: f64,
}

/// A goal made ready.
pub(super) struct Question<'c> {
    cusps: &'c [Cusp],
    pub(super) home: Setup,
    pub(super) factors: Vec<Factor>,
    unknowns: Vec<Unknown>,
    pub(super) readings: Vec<Reading>,
    want: Want,
}

/// The usual freedom: plate from 0° to 60°, wings from 0° to 45°.
fn usual() -> Vec<Free> {
    let range =
        |most| AngleRange { least: Angle::ZERO, most: Angle::from_degrees(most), weight: Weight::ONE };
    vec![Free::IncisalGuidance(range(60.0)), Free::LateralIncisalGuidance(range(45.0))]
}

impl<'c> Question<'c> {
    pub(super) fn new(
        instrument: &Instrument,
        plane: OcclusalPlane,
        cusps: &'c [Cusp],
        goal: &Clearances,
    ) -> Self {
        let inclines = |cusp: &Cusp| {
            let own = cusp.opposing();
            [own.protrusive, own.retrusive, own.working, own.nonworking].map(Angle::degrees)
        };
        let all: Vec<f64> = cusps.iter().flat_map(inclines).collect();
        #[allow(clippy::cast_precision_loss)] // a scene has far fewer cusps
        let mean = if all.is_empty() { 0.0 } else { all.iter().sum::<f64>() / all.len() as f64 };
        let home = Setup {
            instrument: instrument.clone(),
            plane,
            arch: ArchForm::usual(instrument),
            cusp_inclination: Angle::from_degrees(mean),
        };
        let free = if goal.free.is_empty() { usual() } else { goal.free.clone() };
        let mut readings = Vec::new();
        for wanted in &goal.clearances {
            let places = cusps.iter().enumerate().filter(|(_, cusp)| wanted.is_at(cusp));
            readings.extend(places.map(|(cusp, _)| Reading {
                cusp,
                role: wanted.excursion,
                advance: wanted.advance,
                wanted_mm: wanted.clearance.mm(),
            }));
        }
        Self {
            cusps,
            factors: free.iter().map(Free::factor).collect(),
            unknowns: free.iter().map(|own| own.unknown(home.get(own.factor()))).collect(),
            readings,
            want: if goal.by == Meeting::AtLeast { Want::AtLeastZero } else { Want::Zero },
            home,
        }
    }

    pub(super) fn with(&self, setup: &Setup, at: &[f64]) -> Setup {
        with(setup, &self.factors, at)
    }

    /// The cusps of a set-up: their opposing inclines are the cusp inclination if that is free.
    pub(super) fn cusps_of(&self, setup: &Setup) -> Vec<Cusp> {
        if !self.factors.contains(&Factor::CuspInclination) {
            return self.cusps.to_vec();
        }
        let own = setup.cusp_inclination;
        let opposing = OpposingInclines { protrusive: own, retrusive: own, working: own, nonworking: own };
        self.cusps.iter().map(|cusp| cusp.opposed_by(opposing)).collect()
    }

    /// The clearances wanted, as a set-up gives them, in millimetres.
    pub(super) fn clearances(&self, setup: &Setup) -> Result<Vec<f64>, PlanError> {
        let from_rest = FromRest::new(&setup.instrument)?;
        let cusps: Vec<Cusp> = self.cusps_of(setup).iter().map(|cusp| from_rest.at_rest(cusp)).collect();
        let gauges = Gauges::new(setup.plane, &cusps);
        let mut clearances = Vec::with_capacity(self.readings.len());
        for own in &self.readings {
            let movement = own.role.movement(cusps[own.cusp].tooth().side());
            let pose = from_rest.since_rest(movement, own.advance)?;
            let reading = gauges.read(&pose).nth(own.cusp);
            clearances.push(reading.map_or(0.0, |reading: CuspReading| reading.clearance.mm()));
        }
        Ok(clearances)
    }

    /// The answer from a home that may differ from the scene in what is not free.
    pub(super) fn answer(&self, home: &Setup) -> Result<Solution, PlanError> {
        let measure = |at: &[f64]| {
            let clearances = self.clearances(&self.with(home, at))?;
            Ok(clearances.iter().zip(&self.readings).map(|(is, own)| is - own.wanted_mm).collect())
        };
        solve::solve(&measure, &vec![self.want; self.readings.len()], &self.unknowns)
    }

    /// Least and greatest clearances over the corners of the bounds; a corner without a pose is left
    /// out.
    pub(super) fn reaches(&self) -> Result<Vec<(Length, Length)>, PlanError> {
        let here = self.clearances(&self.home)?;
        let mut reaches: Vec<(f64, f64)> = here.iter().map(|_| (f64::INFINITY, f64::NEG_INFINITY)).collect();
        for corner in 0..1_usize << self.unknowns.len() {
            let at: Vec<f64> = self
                .unknowns
                .iter()
                .enumerate()
                .map(|(index, own)| if corner >> index & 1 == 0 { own.least } else { own.most })
                .collect();
            let Ok(clearances) = self.clearances(&self.with(&self.home, &at)) else { continue };
            for (reach, clearance) in reaches.iter_mut().zip(clearances) {
                *reach = (reach.0.min(clearance), reach.1.max(clearance));
            }
        }
        let told = reaches
            .into_iter()
            .zip(here)
            .map(|((least, most), here)| if least <= most { (least, most) } else { (here, here) });
        Ok(told.map(|(least, most)| (Length::from_mm(least), Length::from_mm(most))).collect())
    }

    /// In closed form: with separation s, a clearance c and a way w onto an incline, its tangent may be
    /// (s − c)/w.
    pub(super) fn allowances(&self, setup: &Setup) -> Result<Vec<Allowance>, PlanError> {
        let from_rest = FromRest::new(&setup.instrument)?;
        let cusps = self.cusps_of(setup);
        let mut allowances = Vec::new();
        for (index, cusp) in cusps.iter().enumerate() {
            let mut readings = self.readings.iter().filter(|own| own.cusp == index).peekable();
            if readings.peek().is_none() {
                continue;
            }
            let mut most: [Option<f64>; 4] = [None; 4];
            let place = from_rest.place_of(cusp);
            for own in readings {
                let pose = from_rest.since_rest(own.role.movement(cusp.tooth().side()), own.advance)?;
                let passage =
                    Passage::of(&moved(&pose, cusp.tooth(), &place), setup.plane, cusp.tooth().side());
                let onto = [passage.forward, -passage.forward, passage.outward, -passage.outward];
                for (most, onto) in most.iter_mut().zip(onto) {
                    if onto > ONTO_MM {
                        let steepest = (passage.fall - own.wanted_mm).atan2(onto);
                        *most = Some(most.map_or(steepest, |most| most.min(steepest)));
                    }
                }
            }
            let own = cusp.opposing();
            let stands = [own.protrusive, own.retrusive, own.working, own.nonworking];
            let names = ["protrusive", "retrusive", "working", "nonworking"];
            let none = ("", Angle::ZERO, None);
            let mut inclines = [none; 4];
            for (slot, ((name, stands), most)) in
                inclines.iter_mut().zip(names.into_iter().zip(stands).zip(most))
            {
                *slot = (name, stands, most.filter(|most| *most >= 0.0).map(Angle::from_radians));
            }
            allowances.push(Allowance { tooth: cusp.tooth(), name: cusp.name().to_owned(), inclines });
        }
        Ok(allowances)
    }
}
