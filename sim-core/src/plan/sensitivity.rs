//! What a wrong inclination or lateral angle does to an answer.

use super::error::PlanError;
use super::factor::{Factor, Setup};
use super::question::Question;
use crate::units::{Angle, Length};

/// Half the difference by which the answer is asked again, in degrees: far above what the search
/// leaves (1e-11), small enough that the answer bends by less than a thousandth.
const HALF_DEG: f64 = 0.01;

/// What a setting that is wrong by a degree does.
#[derive(Clone, Debug, PartialEq)]
pub struct Sensitivity {
    /// The setting, of both sides.
    pub of: Factor,
    /// How much each free factor would have to change for each degree, in the order of the changes.
    pub answer_per_degree: Vec<f64>,
    /// How much each clearance changes for each degree if the guidance stays as planned, in the order
    /// of the readings.
    pub clearance_per_degree: Vec<Length>,
}

/// Both by central differences: the answer is found anew on instruments whose guides are a little
/// steeper and a little flatter, and the clearances are read there with the guidance left as planned.
pub(super) fn of(question: &Question<'_>, planned: &Setup) -> Result<Vec<Sensitivity>, PlanError> {
    let mut all = Vec::new();
    for factor in [Factor::CondylarGuidance, Factor::LateralCondylarAngle] {
        if question.factors.contains(&factor) {
            continue;
        }
        let beside = |setup: &Setup, step: f64| {
            let mut beside = setup.clone();
            beside.set(factor, setup.get(factor) + Angle::from_degrees(step));
            beside
        };
        let slope = |up: &[f64], down: &[f64]| -> Vec<f64> {
            up.iter().zip(down).map(|(up, down)| (up - down) / (2.0 * HALF_DEG)).collect()
        };
        let answer = |step: f64| question.answer(&beside(&question.home, step)).map(|found| found.at);
        let clearances = |step: f64| question.clearances(&beside(planned, step));
        all.push(Sensitivity {
            of: factor,
            answer_per_degree: slope(&answer(HALF_DEG)?, &answer(-HALF_DEG)?),
            clearance_per_degree: slope(&clearances(HALF_DEG)?, &clearances(-HALF_DEG)?)
                .into_iter()
                .map(Length::from_mm)
                .collect(),
        });
    }
    Ok(all)
}
