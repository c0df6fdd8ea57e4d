//! The goal of a plan answered for a scene, and the scene as planned.

use super::Scene;
use crate::instrument::Instrument;
use crate::plan::{
    self, ArchForm, Balanced, CURVE_READ_AT_MM, Disclosed, FactorChange, Goal, Plan, PlanError, Setup,
    SteepGuidance,
};
use crate::units::{Angle, Length};

/// A curve that tips a tooth by a sine of less than this is flat.
const FLAT: f64 = 1e-9;

/// The answer to a plan's goal.
#[derive(Clone, Debug, PartialEq)]
pub enum GoalAnswer {
    /// To balanced articulation.
    Balanced(Box<Balanced>),
    /// To clearances wanted.
    Disclosed(Box<Disclosed>),
}

impl GoalAnswer {
    /// Answers a plan's goal for a scene, whatever plan the scene itself has; none where the plan has no
    /// goal.
    ///
    /// # Errors
    /// [`PlanError`] for goals that make no sense, or an instrument without a pose.
    pub fn of(scene: &Scene, plan: &Plan) -> Result<Option<Self>, PlanError> {
        plan.check(&scene.instrument, &scene.cusps)?;
        Ok(match &plan.goal {
            None => None,
            Some(Goal::BalancedArticulation(goal)) => {
                Some(Self::Balanced(Box::new(plan::balance(&scene.planning_setup(plan), goal)?)))
            }
            Some(Goal::Disclusion(goal)) => Some(Self::Disclosed(Box::new(plan::disclude(
                &scene.instrument,
                scene.occlusal_plane,
                &scene.cusps,
                goal,
            )?))),
        })
    }

    /// Whether all that is wanted is reached.
    #[must_use]
    pub const fn is_met(&self) -> bool {
        match self {
            Self::Balanced(found) => found.met,
            Self::Disclosed(found) => found.met,
        }
    }

    /// The instrument as planned.
    #[must_use]
    pub const fn instrument(&self) -> &Instrument {
        match self {
            Self::Balanced(found) => &found.setup.instrument,
            Self::Disclosed(found) => &found.instrument,
        }
    }

    /// Whether the guidance as planned is much steeper than the condylar path, over the plan's chord. A
    /// path that ends before has no chord to compare with.
    #[must_use]
    pub fn steep_guidance(&self, plan: &Plan) -> Option<SteepGuidance> {
        SteepGuidance::of(self.instrument(), plan.chord).ok().flatten()
    }

    /// What changes.
    #[must_use]
    pub fn changes(&self) -> &[FactorChange] {
        match self {
            Self::Balanced(found) => &found.changes,
            Self::Disclosed(found) => &found.changes,
        }
    }

    /// The scene that was asked about with the settings as planned, and the plan with it.
    #[must_use]
    pub fn planned_scene(&self, asked: &Scene, plan: &Plan) -> Scene {
        let (mut scene, mut plan) = (asked.clone(), plan.clone());
        match self {
            Self::Balanced(found) => {
                scene.instrument = found.setup.instrument.clone();
                scene.occlusal_plane = found.setup.plane;
                plan.arch = Some(found.setup.arch);
                if let Some(Goal::BalancedArticulation(goal)) = &mut plan.goal {
                    goal.cusp_inclination = found.setup.cusp_inclination;
                }
            }
            Self::Disclosed(found) => {
                scene.instrument = found.instrument.clone();
                scene.cusps.clone_from(&found.cusps);
            }
        }
        scene.plan = Some(plan);
        scene
    }
}

impl Scene {
    /// The scene's instrument with the teeth of a plan: all that the plan may change.
    #[must_use]
    pub fn planning_setup(&self, plan: &Plan) -> Setup {
        let cusp_inclination = match &plan.goal {
            Some(Goal::BalancedArticulation(goal)) => goal.cusp_inclination,
            _ => Angle::ZERO,
        };
        Setup {
            instrument: self.instrument.clone(),
            plane: self.occlusal_plane,
            arch: plan.arch.unwrap_or_else(|| ArchForm::usual(&self.instrument)),
            cusp_inclination,
        }
    }
}

impl FactorChange {
    /// The radius of a compensating curve as planned; none where it is flat. It tips a tooth
    /// 30 mm behind its start by the angle planned.
    #[must_use]
    pub fn radius(&self) -> Option<Length> {
        let sin = self.to.radians().sin();
        (sin > FLAT).then(|| Length::from_mm(CURVE_READ_AT_MM / sin))
    }
}
