//! A plan worked out: what `plan` and `sheet` report.

use sim_core::plan::{
    self, Balanced, Disclosed, FactorChange, Goal, Place, Plan, PlanError, RequiredInclines, Setup, WhatIf,
};
use sim_core::scene::Scene;

use crate::format::table::number::{signed, two_decimals};

/// A plan worked out.
pub(crate) struct Planned {
    /// The scene as it stands.
    pub(crate) scene: Scene,
    pub(crate) plan: Plan,
    /// What the middles of all crowns need, on the instrument as it stands.
    pub(crate) teeth: Vec<RequiredInclines>,
    /// What the scene's cusps need.
    pub(crate) cusps: Vec<RequiredInclines>,
    pub(crate) answer: Option<Answer>,
    pub(crate) what_ifs: Vec<WhatIf>,
}

/// The answer to the goal.
pub(crate) enum Answer {
    Balanced(Box<Balanced>),
    Disclosed(Box<Disclosed>),
}

impl Planned {
    /// Works a plan out.
    pub(crate) fn of(scene: &Scene, plan: &Plan) -> Result<Self, PlanError> {
        plan.check(&scene.instrument, &scene.cusps)?;
        let setup = setup(scene, plan);
        let (instrument, plane) = (&scene.instrument, scene.occlusal_plane);
        let teeth = setup.arch.teeth(instrument, plane)?;
        let places: Vec<Place> = teeth.iter().map(|tooth| Place::of_tooth(tooth, &plan.tooth_axes)).collect();
        let answer = match &plan.goal {
            None => None,
            Some(Goal::BalancedArticulation(goal)) => {
                Some(Answer::Balanced(Box::new(plan::balance(&setup, goal)?)))
            }
            Some(Goal::Disclusion(goal)) => {
                Some(Answer::Disclosed(Box::new(plan::disclude(instrument, plane, &scene.cusps, goal)?)))
            }
        };
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
    pub(crate) fn planned_scene(&self) -> Scene {
        let mut scene = self.scene.clone();
        let mut plan = self.plan.clone();
        match &self.answer {
            None => {}
            Some(Answer::Balanced(found)) => {
                scene.instrument = found.setup.instrument.clone();
                scene.occlusal_plane = found.setup.plane;
                plan.arch = Some(found.setup.arch);
                if let Some(Goal::BalancedArticulation(goal)) = &mut plan.goal {
                    goal.cusp_inclination = found.setup.cusp_inclination;
                }
            }
            Some(Answer::Disclosed(found)) => {
                scene.instrument = found.instrument.clone();
                scene.cusps.clone_from(&found.cusps);
            }
        }
        scene.plan = Some(plan);
        scene
    }

    /// Whether all that is wanted is reached.
    pub(crate) fn is_reached(&self) -> bool {
        match &self.answer {
            None => true,
            Some(Answer::Balanced(found)) => found.met,
            Some(Answer::Disclosed(found)) => found.met,
        }
    }

    pub(crate) fn changes(&self) -> &[FactorChange] {
        match &self.answer {
            None => &[],
            Some(Answer::Balanced(found)) => &found.changes,
            Some(Answer::Disclosed(found)) => &found.changes,
        }
    }

    /// The verdict on the goal in a sentence or two; none without a goal.
    pub(crate) fn verdict(&self) -> Option<String> {
        Some(match self.answer.as_ref()? {
            Answer::Balanced(found) if found.met => {
                "Balanced: every tooth and excursion asked for is in contact.".to_owned()
            }
            Answer::Balanced(found) => format!(
                "NOT BALANCED exactly: no setting within the bounds brings every tooth and excursion asked for \
                 into contact. The nearest leaves at most {} mm (below zero an interference); as it stands it \
                 is {} mm.",
                two_decimals(found.greatest.in_mm()),
                two_decimals(found.greatest_before.in_mm()),
            ),
            Answer::Disclosed(found) => match found.in_the_way.map(|index| &found.reached[index]) {
                None => "Reached: every cusp has the clearance wanted.".to_owned(),
                Some(own) => format!(
                    "NOT REACHED: no setting within the bounds gives every clearance wanted. {} {}, {}, stands in \
                     the way: {} mm are wanted, {} mm are reached, and at most {} mm could be. The nearest is \
                     told.",
                    own.tooth,
                    own.name,
                    own.role.name(),
                    two_decimals(own.wanted.in_mm()),
                    two_decimals(own.reached.in_mm()),
                    two_decimals(own.reach.1.in_mm()),
                ),
            },
        })
    }

    /// What changes, in words, as far as two decimals show it.
    pub(crate) fn change_words(&self) -> Vec<String> {
        let shows =
            |change: &&FactorChange| two_decimals(change.from.degrees()) != two_decimals(change.to.degrees());
        self.changes().iter().filter(shows).map(change_words).collect()
    }
}

/// A change in words; a curve also by its radius.
pub(crate) fn change_words(change: &FactorChange) -> String {
    let (from, to) = (change.from.degrees(), change.to.degrees());
    let radius = match radius_words(change) {
        Some(words) => format!(", {words}"),
        None => String::new(),
    };
    format!(
        "{} from {}° to {}° ({}°{radius})",
        change.factor.label(),
        two_decimals(from),
        two_decimals(to),
        signed(to - from),
    )
}

/// The radius of a planned curve; none for another factor.
pub(crate) fn radius_words(change: &FactorChange) -> Option<String> {
    if change.factor != plan::Factor::CompensatingCurve {
        return None;
    }
    Some(match radius_mm(change) {
        Some(radius) => format!("radius {radius:.0} mm"),
        None => "flat".to_owned(),
    })
}

/// The radius of a planned curve, in millimetres; none where it is flat.
pub(crate) fn radius_mm(change: &FactorChange) -> Option<f64> {
    let sin = change.to.radians().sin();
    (sin > 1e-9).then(|| plan::CURVE_READ_AT_MM / sin)
}

fn setup(scene: &Scene, plan: &Plan) -> Setup {
    let cusp_inclination = match &plan.goal {
        Some(Goal::BalancedArticulation(goal)) => goal.cusp_inclination,
        _ => sim_core::units::Angle::ZERO,
    };
    Setup {
        instrument: scene.instrument.clone(),
        plane: scene.occlusal_plane,
        arch: plan.arch.unwrap_or_else(|| plan::ArchForm::usual(&scene.instrument)),
        cusp_inclination,
    }
}

/// A place's name: tooth and cusp.
pub(crate) fn place_name(place: &Place) -> String {
    match &place.name {
        Some(name) => format!("{} {name}", place.tooth),
        None => place.tooth.to_string(),
    }
}
