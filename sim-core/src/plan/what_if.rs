//! The pin raised or lowered, the occlusal plane tilted or shifted, on either design.

use nalgebra::Vector3;

use super::answer::Answer;
use super::arch::ArchForm;
use super::balance::balance_only;
use super::disclusion::disclude_only;
use super::error::PlanError;
use super::factor::Setup;
use super::goal::{Goal, Plan};
use super::incline::{FacetPlace, RequiredInclines, required_inclines};
use super::passage::FromRest;
use crate::cusp::{Cusp, Tooth};
use crate::frame::OcclusalPlane;
use crate::instrument::{Design, Instrument};
use crate::units::{Angle, Length};

/// The changes asked about.
const PIN_MM: [f64; 4] = [-2.0, -1.0, 1.0, 2.0];
const TILT_DEG: [f64; 2] = [-5.0, 5.0];
const SHIFT_MM: [f64; 2] = [-2.0, 2.0];
/// The tooth at which inclines are told: the lower left first molar.
const WATCHED: i64 = 36;

/// One change.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Variant {
    /// Nothing changes.
    AsItStands,
    /// The pin let down further, which raises the vertical dimension; raised below zero.
    Pin(Length),
    /// The occlusal plane tilted about the incisal point, anterior edge down, and the teeth with it.
    Tilt(Angle),
    /// The occlusal plane shifted up along its normal, and the teeth with it.
    Shift(Length),
}

/// What one change does.
#[derive(Clone, Debug, PartialEq)]
pub struct WhatIf {
    /// The change.
    pub variant: Variant,
    /// The design on which it is made.
    pub design: Design,
    /// What the jaw is opened by at rest, from the zeroed centric position.
    pub opening: Angle,
    /// What the middle of the lower left first molar needs.
    pub inclines: RequiredInclines,
    /// The goal's answer; none without a goal.
    pub answer: Option<Answer>,
}

/// Asks the plan again with the pin 1 and 2 mm up and down (where there is one), the occlusal plane
/// tilted by 5° and shifted by 2 mm either way, each on both designs. What stands in the list is what
/// has a pose and an answer; a change that has none is left out.
///
/// # Errors
/// [`PlanError`] where not even the instrument as it stands has an answer.
pub fn what_ifs(
    instrument: &Instrument,
    plane: OcclusalPlane,
    cusps: &[Cusp],
    plan: &Plan,
) -> Result<Vec<WhatIf>, PlanError> {
    let mut all = vec![what_if(instrument, plane, cusps, plan, Variant::AsItStands, instrument.design)?];
    for variant in variants(instrument) {
        for design in [Design::Arcon, Design::NonArcon] {
            if variant == Variant::AsItStands && design == instrument.design {
                continue;
            }
            if let Ok(own) = what_if(instrument, plane, cusps, plan, variant, design) {
                all.push(own);
            }
        }
    }
    Ok(all)
}

fn variants(instrument: &Instrument) -> Vec<Variant> {
    let mut all = vec![Variant::AsItStands];
    if instrument.anterior_guide.has_pin() {
        all.extend(PIN_MM.map(|mm| Variant::Pin(Length::from_mm(mm))));
    }
    all.extend(TILT_DEG.map(|degrees| Variant::Tilt(Angle::from_degrees(degrees))));
    all.extend(SHIFT_MM.map(|mm| Variant::Shift(Length::from_mm(mm))));
    all
}

fn what_if(
    instrument: &Instrument,
    plane: OcclusalPlane,
    cusps: &[Cusp],
    plan: &Plan,
    variant: Variant,
    design: Design,
) -> Result<WhatIf, PlanError> {
    let mut setup = Setup {
        instrument: Instrument { design, ..instrument.clone() },
        plane,
        arch: plan.arch.unwrap_or_else(|| ArchForm::usual(instrument)),
        cusp_inclination: Angle::ZERO,
    };
    let mut cusps = cusps.to_vec();
    match variant {
        Variant::AsItStands => {}
        Variant::Pin(by) => setup.instrument.pin_extension = setup.instrument.pin_extension + by,
        Variant::Tilt(by) => {
            setup.plane.inclination = plane.inclination + by;
            // Anterior edge down is a turn about +y.
            let turn = nalgebra::Rotation3::from_axis_angle(&Vector3::y_axis(), by.radians());
            let pivot = instrument.incisal_point.coords();
            cusps = cusps.iter().map(|cusp| cusp.moved_to(turn * (cusp.at_mm() - pivot) + pivot)).collect();
        }
        Variant::Shift(by) => {
            setup.arch.above = setup.arch.above + by;
            cusps = cusps.iter().map(|cusp| cusp.moved_to(cusp.at_mm() + plane.normal() * by.mm())).collect();
        }
    }
    let watched = Tooth::new(WATCHED)?;
    let teeth = setup.arch.teeth(&setup.instrument, setup.plane)?;
    let places: Vec<FacetPlace> = teeth
        .iter()
        .filter(|tooth| tooth.tooth == watched)
        .map(|tooth| FacetPlace::of_tooth(tooth, &plan.tooth_axes))
        .collect();
    let needed = required_inclines(&setup.instrument, setup.plane, &places, plan.chord)?;
    let inclines = needed.into_iter().next().ok_or(PlanError::NotABackTooth { tooth: watched })?;
    let opening = FromRest::new(&setup.instrument)?.opening()?;
    let answer = match &plan.goal {
        None => None,
        Some(Goal::BalancedArticulation(goal)) => {
            setup.cusp_inclination = goal.cusp_inclination;
            Some(balance_only(&setup, goal)?)
        }
        Some(Goal::Disclusion(goal)) => Some(disclude_only(&setup.instrument, setup.plane, &cusps, goal)?),
    };
    Ok(WhatIf { variant, design, opening, inclines, answer })
}
