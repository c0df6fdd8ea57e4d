//! Setting a goal, applying its answer, and taking that back.

use std::sync::Arc;

use sim_core::cusp::Cusp;

use crate::page::Page;
use crate::planning::{Answered, Draft};
use crate::state::{State, is_same_cusp};

/// A hand that has changed nothing for this long has come to rest, in seconds.
const REST: f64 = 0.35;

impl State {
    pub(super) fn set_goal(&mut self, draft: Draft) {
        self.planning.draft = draft;
    }

    /// Sees to it that the answer on the plan's page is the answer to the goal as set: the first one at
    /// once, another when the hand that changes the question has come to rest, since a search may take
    /// longer than a frame.
    pub(super) fn look_at_plan(&mut self) {
        if self.page != Page::Plan || self.planning.is_answered(&self.scene) {
            self.planning.rested = None;
        } else if self.planning.answered.is_none() {
            self.answer_plan();
        } else {
            self.planning.rested = Some(0.0);
        }
    }

    /// Time passes for an answer that is to be renewed.
    pub(super) fn wait_for_plan(&mut self, seconds: f64) {
        let Some(rested) = &mut self.planning.rested else {
            // Casts solved in full after a rough picture may have moved the cusps.
            return self.look_at_plan();
        };
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
        let before = Arc::new((self.scene.clone(), self.planning.draft.clone()));
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
        let Some(applied) = self.planning.before.pop() else { return };
        let (before, draft) = &*applied;
        self.planning.draft.take_teeth_of(&draft.plan());
        self.edit(|scene, _| {
            let was = |cusp: &Cusp| {
                let earlier = before.cusps.iter().find(|earlier| is_same_cusp(earlier, cusp));
                earlier.map(|earlier| cusp.opposed_by(*earlier.opposing()))
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

#[cfg(test)]
mod tests {
    use sim_core::anterior::Trough;
    use sim_core::frame::Side;
    use sim_core::guide::CondylarGuide;
    use sim_core::plan::{Goal, Role};
    use sim_core::scene::{GoalAnswer, Scene};
    use sim_core::setting::Setting;
    use sim_core::units::Length;

    use crate::action::Action;
    use crate::action::testing::{near, opened};
    use crate::page::Page;
    use crate::planning::{Draft, GoalKind};
    use crate::state::State;

    const DISCLUSION: &str = include_str!("../../../scenes/planned_disclusion.ron");
    const DENTURE: &str = include_str!("../../../scenes/balanced_denture.ron");

    fn planning(text: &str) -> State {
        let mut state = State::open(Scene::from_ron(text).unwrap()).unwrap();
        state.act(Action::Page(Page::Plan));
        state
    }

    fn answer(state: &State) -> &GoalAnswer {
        state.planning.answer(&state.scene).unwrap().0
    }

    fn set_goal(state: &mut State, change: impl FnOnce(&mut Draft)) {
        let mut draft = state.planning.draft.clone();
        change(&mut draft);
        state.act(Action::Goal(Box::new(draft)));
    }

    /// Long enough for a hand to have come to rest.
    fn rest(state: &mut State) {
        for _ in 0..10 {
            state.pass(0.1);
        }
    }

    #[test]
    fn a_goal_comes_from_the_scene_and_goes_back_into_it_unchanged() {
        for text in [DISCLUSION, DENTURE] {
            let scene = Scene::from_ron(text).unwrap();
            assert_eq!(Some(Draft::of(&scene).plan()), scene.plan);
        }
        let scene = Scene::thirty_degree();
        assert_eq!(Draft::of(&scene).plan(), scene.plan.unwrap_or_default());
    }

    #[test]
    fn a_goal_that_is_not_chosen_is_kept() {
        let mut state = planning(DISCLUSION);
        let plan = state.planning.draft.plan();
        set_goal(&mut state, |draft| draft.kind = GoalKind::Balance);
        assert!(matches!(state.planning.draft.plan().goal, Some(Goal::BalancedArticulation(_))));
        set_goal(&mut state, |draft| draft.kind = GoalKind::Disclusion);
        assert_eq!(state.planning.draft.plan(), plan);
    }

    #[test]
    fn nothing_is_searched_while_another_page_is_shown() {
        let mut state = State::open(Scene::from_ron(DISCLUSION).unwrap()).unwrap();
        state.act(Action::Set(Setting::Guide(&CondylarGuide::HORIZONTAL_INCLINATION), Side::Right, 41.0));
        rest(&mut state);
        assert!(state.planning.answered.is_none() && state.planning.rested.is_none());
    }

    #[test]
    fn an_answer_follows_the_settings_once_the_hand_rests_and_an_older_one_is_not_applied() {
        let mut state = planning(DISCLUSION);
        let first = answer(&state).changes().to_vec();
        state.act(Action::Set(Setting::Guide(&CondylarGuide::HORIZONTAL_INCLINATION), Side::Right, 41.0));
        assert!(state.planning.rested.is_some() && state.planning.answer(&state.scene).is_none());
        let before = state.scene.clone();
        state.act(Action::ApplyPlan);
        assert_eq!(state.scene, before);
        rest(&mut state);
        assert!(state.planning.rested.is_none());
        assert_ne!(answer(&state).changes(), first);
    }

    #[test]
    fn an_applied_plan_gives_the_clearances_wanted_and_is_taken_back_whole() {
        let mut state = planning(DISCLUSION);
        let before = state.scene.clone();
        let GoalAnswer::Disclosed(planned) = answer(&state).clone() else { panic!("clearances are wanted") };
        assert!(planned.met);
        state.act(Action::ApplyPlan);
        assert_eq!(state.scene.instrument, planned.instrument);
        assert_ne!(state.scene.instrument, before.instrument);
        assert_eq!(state.note, None);
        // The excursions shown, solved forward, have what was asked for, cusp by cusp.
        let protrusive =
            state.excursions.iter().position(|offered| offered.movement().name() == "protrusive").unwrap();
        state.act(Action::Excursion(protrusive));
        let last = state.shown.solved.last();
        assert!(near(last.driven, 3.0));
        for reached in planned.reached.iter().filter(|reached| reached.role == Role::Protrusive) {
            let clearance = last.readings[reached.cusp].clearance;
            assert!(near(clearance.mm(), reached.reached.mm()), "{reached:?}: {clearance:?}");
            assert!(clearance.mm() > reached.wanted.mm() - 1e-6);
        }
        state.act(Action::TakePlanBack);
        assert_eq!(state.scene, before);
        // There is nothing more to take back.
        state.act(Action::TakePlanBack);
        assert_eq!(state.scene, before);
    }

    #[test]
    fn plans_applied_one_after_the_other_are_taken_back_one_by_one() {
        let mut state = planning(DISCLUSION);
        let first = state.scene.clone();
        state.act(Action::ApplyPlan);
        let second = state.scene.clone();
        set_goal(&mut state, |draft| {
            for wanted in &mut draft.clearances.clearances {
                wanted.clearance = wanted.clearance + Length::from_mm(0.1);
            }
        });
        rest(&mut state);
        state.act(Action::ApplyPlan);
        assert_ne!(state.scene.instrument, second.instrument);
        state.act(Action::TakePlanBack);
        assert_eq!(state.scene, second);
        state.act(Action::TakePlanBack);
        assert_eq!(state.scene, first);
    }

    #[test]
    fn a_denture_is_balanced_with_its_teeth_and_has_them_back() {
        let mut state = planning(DENTURE);
        let (before, goal) = (state.scene.clone(), state.planning.draft.clone());
        let GoalAnswer::Balanced(planned) = answer(&state).clone() else { panic!("balance is wanted") };
        state.act(Action::ApplyPlan);
        assert_eq!(state.scene.instrument, planned.setup.instrument);
        let Some(Goal::BalancedArticulation(now)) = state.planning.draft.plan().goal else {
            panic!("balance is wanted")
        };
        assert_eq!(now.cusp_inclination, planned.setup.cusp_inclination);
        assert_eq!(state.planning.draft.plan().arch, Some(planned.setup.arch));
        state.act(Action::TakePlanBack);
        assert_eq!((state.scene.clone(), state.planning.draft.clone()), (before, goal));
    }

    #[test]
    fn a_goal_that_makes_no_sense_is_named_and_leaves_scene_and_picture_alone() {
        let mut state = planning(DISCLUSION);
        let (scene, revision) = (state.scene.clone(), state.shown.revision);
        set_goal(&mut state, |draft| draft.clearances.clearances.clear());
        rest(&mut state);
        let answered = state.planning.answered.as_ref().unwrap();
        assert!(answered.goal.as_ref().unwrap_err().to_string().contains("give at least one"));
        // What the cusps need is shown all the same.
        assert_eq!(answered.inclines.as_ref().unwrap().len(), scene.cusps.len());
        state.act(Action::ApplyPlan);
        assert_eq!((state.scene.clone(), state.shown.revision), (scene, revision));
        assert_eq!(state.note, None);
    }

    #[test]
    fn a_goal_out_of_reach_names_what_stands_in_the_way() {
        let mut state = planning(DISCLUSION);
        set_goal(&mut state, |draft| draft.clearances.clearances[0].clearance = Length::from_mm(9.0));
        rest(&mut state);
        assert!(!answer(&state).is_met());
        let verdict = words::verdict::plan::answer(answer(&state));
        assert!(verdict.contains("NOT REACHED") && verdict.contains("36 mesiobuccal"), "{verdict}");
    }

    #[test]
    fn a_guidance_much_steeper_than_the_condylar_path_is_told_with_the_answer() {
        let mut state = planning(DISCLUSION);
        rest(&mut state);
        let caution = state.planning.caution().expect("53° over 36°");
        assert!(caution.contains("17.23° steeper"), "{caution}");
        set_goal(&mut state, |draft| {
            for wanted in &mut draft.clearances.clearances {
                wanted.clearance = Length::ZERO;
            }
        });
        rest(&mut state);
        assert_eq!(state.planning.caution(), None, "{:?}", answer(&state).changes());
    }

    #[test]
    fn the_files_values_bring_back_its_teeth_and_leave_what_is_wanted() {
        let mut state = planning(DENTURE);
        set_goal(&mut state, |draft| draft.balance.advance = Length::from_mm(4.0));
        rest(&mut state);
        state.act(Action::ApplyPlan);
        state.act(Action::BackToFile);
        assert_eq!(state.scene, state.as_read);
        let Some(Goal::BalancedArticulation(goal)) = state.planning.draft.plan().goal else {
            panic!("balance is wanted")
        };
        assert!(near(goal.cusp_inclination.degrees(), 20.0));
        assert_eq!(goal.advance, Length::from_mm(4.0));
    }

    #[test]
    fn what_cusps_need_is_shown_without_a_goal_and_equal_guides_need_that_incline() {
        let mut state = opened();
        state.act(Action::Set(Setting::Anterior(&Trough::SAGITTAL_INCLINATION), Side::Right, 30.0));
        state.act(Action::Page(Page::Plan));
        let answered = state.planning.answered.as_ref().unwrap();
        assert_eq!(answered.goal, Ok(None));
        let plane = state.scene.occlusal_plane.inclination.degrees();
        for inclines in answered.inclines.as_ref().unwrap() {
            let needed = inclines.protrusive.tangent.along_way.degrees();
            assert!(near(needed, 30.0 - plane), "{inclines:?}");
        }
    }
}
