//! Planning backward: the goal as it is being set, and what it comes to on the settings as they are.
//!
//! The goal being set is a [`Draft`] beside the scene. A goal that makes no sense is named in the panel
//! and leaves the picture alone; only an answer that is applied goes into the scene.

mod draft;

pub use draft::{Draft, GoalKind, first_bounds, first_wanted};

use std::sync::Arc;

use sim_core::plan::{Plan, PlanError, RequiredInclines, required_inclines_of_cusps};
use sim_core::scene::{GoalAnswer, Scene};

/// The goal and its answer.
#[derive(Clone, Debug)]
pub struct Planning {
    /// The goal being set.
    pub draft: Draft,
    /// The last answer; none before it was first looked at.
    pub answered: Option<Answered>,
    /// Seconds since the last change, while the answer is to be renewed.
    pub rested: Option<f64>,
    /// The scenes and goals before each plan that was applied, the last one last.
    pub before: Vec<Applied>,
}

/// The scene and the goal before a plan was applied.
pub type Applied = Arc<(Scene, Draft)>;

/// An answer, with its question.
#[derive(Clone, Debug)]
pub struct Answered {
    /// The scene of the question.
    scene: Scene,
    /// The plan of the question.
    pub plan: Plan,
    /// The answer to the goal; none without a goal.
    pub goal: Result<Option<GoalAnswer>, PlanError>,
    /// What the scene's cusps need on the settings as they are.
    pub inclines: Result<Vec<RequiredInclines>, PlanError>,
}

impl Planning {
    /// The planning that a scene comes with.
    #[must_use]
    pub fn of(scene: &Scene) -> Self {
        Self { draft: Draft::of(scene), answered: None, rested: None, before: Vec::new() }
    }

    /// Whether the last answer is the answer to the goal as set, for a scene.
    #[must_use]
    pub fn is_answered(&self, scene: &Scene) -> bool {
        self.answered
            .as_ref()
            .is_some_and(|answer| answer.is_about(scene) && answer.plan == self.draft.plan())
    }

    /// The answer to the goal as set, if it is one for this scene.
    #[must_use]
    pub fn answer(&self, scene: &Scene) -> Option<(&GoalAnswer, &Plan)> {
        let answered = self.answered.as_ref().filter(|_| self.is_answered(scene))?;
        Some((answered.goal.as_ref().ok()?.as_ref()?, &answered.plan))
    }

    /// What is to be kept in mind of the last answer, where its guidance is much steeper than the
    /// condylar path.
    #[must_use]
    pub fn caution(&self) -> Option<String> {
        let answered = self.answered.as_ref()?;
        let steep = answered.goal.as_ref().ok()?.as_ref()?.steep_guidance(&answered.plan)?;
        Some(words::verdict::plan::steep_guidance(&steep))
    }
}

impl Answered {
    /// Works a plan out for a scene.
    #[must_use]
    pub fn to(scene: &Scene, plan: Plan) -> Self {
        let inclines = required_inclines_of_cusps(
            &scene.instrument,
            scene.occlusal_plane,
            &scene.cusps,
            &plan.tooth_axes,
            plan.chord,
        );
        Self { scene: scene.clone(), goal: GoalAnswer::of(scene, &plan), inclines, plan }
    }

    /// Whether a scene is that of the question, in all that a plan depends on.
    fn is_about(&self, scene: &Scene) -> bool {
        self.scene.instrument == scene.instrument
            && self.scene.occlusal_plane == scene.occlusal_plane
            && self.scene.cusps == scene.cusps
    }
}
