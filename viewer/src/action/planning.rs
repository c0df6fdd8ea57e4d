//! Setting a goal, applying its answer, and taking that back.

use sim_core::cusp::Cusp;

use crate::casts::Page;
use crate::planning::{Answered, Draft};
use crate::state::State;

/// A hand that has changed nothing for this long has come to rest, in seconds.
const REST: f64 = 0.35;

impl State {
    pub(super) fn set_goal(&mut self, draft: Draft) {
        self.planning.draft = draft;
    }

    /// Sees to it that the answer on the plan's page is the answer to what is asked: the first one at
    /// once, another when the hand that changes the question has come to rest, since a search may take
    /// longer than a frame.
    pub(super) fn look_at_plan(&mut self) {
        if self.casts.page != Page::Plan || self.planning.is_answered(&self.scene) {
            self.planning.rested = None;
        } else if self.planning.answered.is_none() {
            self.answer_plan();
        } else {
            self.planning.rested = Some(0.0);
        }
    }

    /// Time passes for an answer that is to be renewed.
    pub(super) fn wait_for_plan(&mut self, seconds: f64) {
        let Some(rested) = &mut self.planning.rested else { return };
        *rested += seconds;
        if *rested > REST {
            self.answer_plan();
        }
    }

    fn answer_plan(&mut self) {
        self.planning.answered = Some(Answered::to(&self.scene, self.planning.draft.plan()));
        self.planning.rested = None;
    }

    /// The settings become the planned ones. An answer to an older question is not applied.
    pub(super) fn apply_plan(&mut self) {
        let Some((answer, plan)) = self.planning.answer(&self.scene) else { return };
        let planned = answer.planned_scene(&self.scene, plan);
        let before = (self.scene.clone(), self.planning.draft.clone());
        if let Some(plan) = &planned.plan {
            self.planning.draft.take_teeth_of(plan);
        }
        self.planning.before.push(before);
        self.edit(|scene, _| {
            *scene = planned;
            Ok(())
        });
    }

    /// Instrument, occlusal plane, plan and opposing inclines become what they were before a plan was
    /// applied. Cusps added since then stay.
    pub(super) fn take_plan_back(&mut self) {
        let Some((before, draft)) = self.planning.before.pop() else { return };
        self.planning.draft.take_teeth_of(&draft.plan());
        self.edit(|scene, _| {
            let was = |cusp: &Cusp| {
                let is_same = |own: &&Cusp| own.tooth() == cusp.tooth() && own.name() == cusp.name();
                before.cusps.iter().find(is_same).map(|own| cusp.opposed_by(*own.opposing()))
            };
            for cusp in &mut scene.cusps {
                if let Some(was) = was(cusp) {
                    *cusp = was;
                }
            }
            scene.instrument = before.instrument.clone();
            scene.occlusal_plane = before.occlusal_plane;
            scene.plan.clone_from(&before.plan);
            Ok(())
        });
    }
}
