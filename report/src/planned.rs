//! A plan worked out: what `plan` and `sheet` report.

use sim_core::plan::{
    self, FacetPlace, FactorChange, Plan, PlanError, RequiredInclines, SteepGuidance, WhatIf,
};
use sim_core::scene::Scene;
use sim_core::units::Angle;

use words::number::two_decimals;

pub use sim_core::scene::GoalAnswer as Answer;

/// A plan worked out.
pub struct Planned {
    /// The scene as it stands.
    pub scene: Scene,
    /// What is wanted.
    pub plan: Plan,
    /// What the middles of all crowns need, on the instrument as it stands.
    pub teeth: Vec<RequiredInclines>,
    /// What the scene's cusps need.
    pub cusps: Vec<RequiredInclines>,
    /// What it takes; none without a goal.
    pub answer: Option<Answer>,
    /// Each factor turned alone.
    pub what_ifs: Vec<WhatIf>,
}

impl Planned {
    /// Works a plan out.
    pub fn of(scene: &Scene, plan: &Plan) -> Result<Self, PlanError> {
        plan.check(&scene.instrument, &scene.cusps)?;
        let setup = scene.planning_setup(plan);
        let (instrument, plane) = (&scene.instrument, scene.occlusal_plane);
        let teeth = setup.arch.teeth(instrument, plane)?;
        let places: Vec<FacetPlace> =
            teeth.iter().map(|tooth| FacetPlace::of_tooth(tooth, &plan.tooth_axes)).collect();
        let answer = Answer::of(scene, plan)?;
        Ok(Self {
            teeth: plan::required_inclines(instrument, plane, &places, plan.chord)?,
            cusps: plan::required_inclines_of_cusps(
                instrument,
                plane,
                &scene.cusps,
                &plan.tooth_axes,
                plan.chord,
            )?,
            what_ifs: plan::what_ifs(instrument, plane, &scene.cusps, plan)?,
            scene: scene.clone(),
            plan: plan.clone(),
            answer,
        })
    }

    /// The scene as planned.
    pub fn planned_scene(&self) -> Scene {
        match &self.answer {
            Some(answer) => answer.planned_scene(&self.scene, &self.plan),
            None => Scene { plan: Some(self.plan.clone()), ..self.scene.clone() },
        }
    }

    /// Whether all that is wanted is reached.
    pub fn is_reached(&self) -> bool {
        self.answer.as_ref().is_none_or(Answer::is_met)
    }

    /// Which factors change; none without a goal.
    pub fn changes(&self) -> &[FactorChange] {
        self.answer.as_ref().map_or(&[], Answer::changes)
    }

    /// The verdict on the goal in a sentence or two; none without a goal.
    pub fn verdict(&self) -> Option<String> {
        self.answer.as_ref().map(words::verdict::plan::answer)
    }

    /// The guidance as planned, where it is much steeper than the condylar path.
    pub fn steep_guidance(&self) -> Option<SteepGuidance> {
        self.answer.as_ref().and_then(|answer| answer.steep_guidance(&self.plan))
    }

    /// What is to be kept in mind of it, in words.
    pub fn caution(&self) -> Option<String> {
        self.steep_guidance().as_ref().map(words::verdict::plan::steep_guidance)
    }

    /// What a reader of the planned scene is to know: the verdict, and what is to be kept in mind.
    pub fn notes(&self) -> Vec<String> {
        [self.verdict(), self.caution()].into_iter().flatten().collect()
    }

    /// What changes, in words, as far as two decimals show it.
    pub fn change_words(&self) -> Vec<String> {
        let written = |angle: Angle| two_decimals(angle.degrees());
        // What differs only in digits that nobody is shown is no change to anybody.
        let shows = |change: &&FactorChange| written(change.from) != written(change.to);
        self.changes().iter().filter(shows).map(words::verdict::plan::change).collect()
    }
}

/// A place's name: tooth and cusp.
pub fn place_name(place: &FacetPlace) -> String {
    match &place.name {
        Some(name) => format!("{} {name}", place.tooth),
        None => place.tooth.to_string(),
    }
}
