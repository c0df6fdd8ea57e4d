//! A case's own uncertainty as a study: the settings that its records give, each with its standard error and
//! with their correlations.

use super::Doubt;
use crate::frame::Side;
use crate::record::program::Source;
use crate::scene::Scene;
use crate::setting::{NameError, SettingName};
use crate::study::{BaseScene, Constraint, Factor, Measure, Recording, Rule, SamplingPlan, Study, Values};

/// Rows of the study: with 512 in each of its scramblings a mean of clearances is sure to a few micrometres.
const ROWS: u64 = 4096;
/// Correlations are written with three digits; more are the draws' chance.
const DIGITS: f64 = 1e3;
/// No correlation is written stronger than this, so that the matrix stays positive definite.
const STRONGEST: f64 = 0.99;
/// Advance at which it records: that of the disclusion of a redrawn case.
const ADVANCE_MM: f64 = super::DISCLUSION_ADVANCE_MM;

/// Why a case is no study.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum NoStudy {
    /// Exact records.
    #[error("nothing of the case is uncertain: no setting of it varies over the draws")]
    NothingVaries,
    /// A name that is no setting's; the settings of a guide are all known.
    #[error(transparent)]
    Name(#[from] NameError),
}

impl Doubt {
    /// A study of the programmed scene: each setting that a record gives varies normally about its value, with
    /// the standard deviation of the draws and their correlations; a lateral angle by the rule L = H/8 + 12 follows
    /// its inclination. It records the clearance at every cusp, or what the jaw does where the scene has none.
    ///
    /// # Errors
    /// [`NoStudy`].
    pub fn study(&self, title: &str, scene: &Scene, seed: u64) -> Result<Study, NoStudy> {
        let mut factors = Vec::new();
        let mut constraints = Vec::new();
        let mut places = Vec::new();
        for (place, doubt) in self.settings.iter().enumerate() {
            if doubt.spread.sd <= 0.0 {
                continue;
            }
            let setting = name(doubt.side, doubt.setting.key)?;
            match doubt.from {
                Source::Record(_) => {
                    let values = Values::Normal { mean: doubt.spread.value, sd: doubt.spread.sd };
                    factors.push(Factor { setting, values });
                    places.push(place);
                }
                Source::Rule => {
                    let of = name(doubt.side, "horizontal_inclination_deg")?;
                    if factors.iter().any(|factor: &Factor| factor.setting == of) {
                        let by = Rule::HOverEightPlusTwelve { of };
                        constraints.push(Constraint::Derived { setting, by });
                    }
                }
            }
        }
        if factors.is_empty() {
            return Err(NoStudy::NothingVaries);
        }
        if factors.len() > 1 {
            let between = factors.iter().map(|factor| factor.setting.clone()).collect();
            let entry = |one: &usize, other: &usize| self.correlation(*one, *other);
            let row = |one: &usize| places.iter().map(|other| entry(one, other)).collect();
            constraints.push(Constraint::Correlated { between, matrix: places.iter().map(row).collect() });
        }
        let (measures, cusps) = if scene.cusps.is_empty() {
            (vec![Measure::Opening, Measure::IncisalPoint], None)
        } else {
            (vec![Measure::Clearance], None)
        };
        Ok(Study {
            title: title.to_owned(),
            scene: BaseScene::Here(Box::new(scene.clone())),
            factors,
            constraints,
            plan: SamplingPlan::Sobol { rows: ROWS, seed, replicates: None },
            record: Recording { measures, advances_mm: vec![ADVANCE_MM], excursions: None, cusps },
        })
    }

    /// As it is written in the study.
    fn correlation(&self, one: usize, other: usize) -> f64 {
        if one == other {
            return 1.0;
        }
        let drawn = self.correlations.get(one).and_then(|row| row.get(other)).copied().unwrap_or_default();
        (drawn.clamp(-STRONGEST, STRONGEST) * DIGITS).round() / DIGITS
    }
}

fn name(side: Side, key: &str) -> Result<SettingName, NameError> {
    format!("{side}_guide.{key}").parse()
}
