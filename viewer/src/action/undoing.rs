//! Undo and redo.

use crate::history::Moment;
use crate::kept::Kept;
use crate::opened::OpenedScene;
use crate::state::{Note, State};

impl State {
    /// All that undo would bring back of the present.
    #[must_use]
    pub fn moment(&self) -> Moment {
        Moment {
            file: self.file.clone(),
            scans: self.scans.clone(),
            as_read: self.as_read.clone(),
            scene: self.scene.clone(),
            draft: self.planning.draft.clone(),
            applied: self.planning.before.clone(),
            marks: self.marks.clone(),
            bench: self.bench.clone(),
            kept: self.kept.as_ref().map(|kept| kept.set_up.clone()),
        }
    }

    /// Remembers a moment if the present is another.
    pub(super) fn remember(&mut self, left: Moment, gesture: Option<String>) {
        if !left.is_same(&self.moment()) {
            self.history.remember(left, gesture);
        }
    }

    pub(super) fn undo(&mut self) {
        let now = self.moment();
        match self.history.undo(now) {
            Some(moment) => self.go_to(moment),
            None => self.nothing_to("undo"),
        }
    }

    pub(super) fn redo(&mut self) {
        let now = self.moment();
        match self.history.redo(now) {
            Some(moment) => self.go_to(moment),
            None => self.nothing_to("redo"),
        }
    }

    fn nothing_to(&mut self, what: &str) {
        self.file_note = Some(Note {
            title: "Nothing to take back or do again",
            what: format!("There is no change to {what}."),
            meanwhile: "The set-up stays as it is.",
        });
    }

    fn go_to(&mut self, moment: Moment) {
        if !moment.is_of_same_file(&self.moment()) {
            let Moment { file, scans, as_read, .. } = moment.clone();
            match Self::open(OpenedScene { scene: as_read, scans, file }) {
                Ok(fresh) => self.become_fresh(fresh),
                // It has been shown before, so that this does not happen; the settings come back all the same.
                Err(error) => {
                    self.file_note = Some(Note {
                        title: "Scene not shown",
                        what: error.to_string(),
                        meanwhile: "The settings have come back, the picture has not.",
                    });
                }
            }
        }
        let Moment { scene, draft, applied, marks, bench, kept, .. } = moment;
        self.bench = bench;
        self.kept = kept.map(Kept::new);
        self.scene = scene;
        self.planning.draft = draft;
        self.planning.before = applied;
        self.solve_edited(false);
        if marks.len() == self.marks.len() {
            self.marks = marks;
        }
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;
    use sim_core::frame::Side;
    use sim_core::guide::CondylarGuide;
    use sim_core::scene::Scene;
    use sim_core::setting::{self, Choice, Setting};

    use crate::action::Action;
    use crate::action::testing::{opened, with_casts};
    use crate::opened::OpenedScene;
    use crate::state::State;

    const INCLINATION: Setting = Setting::Guide(&CondylarGuide::HORIZONTAL_INCLINATION);

    fn set(state: &mut State, degrees: f64) {
        state.act(Action::Set(INCLINATION, Side::Right, degrees));
    }

    #[test]
    fn a_slider_dragged_is_one_change_until_the_hand_lets_go() {
        let mut state = opened();
        for degrees in [31.0, 32.0, 33.0] {
            set(&mut state, degrees);
        }
        state.act(Action::LetGo);
        let dragged = state.scene.clone();
        set(&mut state, 40.0);
        assert_eq!(state.history.depth(), (2, 0));
        state.act(Action::Undo);
        assert_eq!(state.scene, dragged);
        state.act(Action::Undo);
        assert_eq!(state.scene, state.as_read);
        state.act(Action::Redo);
        assert_eq!(state.scene, dragged);
        // Another change instead: what was undone is gone.
        set(&mut state, 12.0);
        assert_eq!(state.history.depth().1, 0);
        state.act(Action::Redo);
        assert!(state.file_note.is_some());
    }

    #[test]
    fn with_nothing_to_undo_it_is_said() {
        let mut state = opened();
        state.act(Action::Undo);
        assert!(state.file_note.as_ref().unwrap().what.contains("no change to undo"));
        assert_eq!(state.scene, state.as_read);
    }

    #[test]
    fn looking_playing_and_scrubbing_are_no_changes() {
        let mut state = opened();
        for action in [
            Action::ScrubTo(30),
            Action::Turn(10.0, 4.0),
            Action::SwapMoving,
            Action::Excursion(1),
            Action::PlayOrPause,
            Action::Help,
        ] {
            state.act(action);
        }
        assert_eq!(state.history.depth(), (0, 0));
    }

    #[test]
    fn a_file_opened_is_undone_with_the_edits_that_were_there() {
        let mut state = opened();
        set(&mut state, 44.0);
        let before = state.scene.clone();
        let mut other = Scene::thirty_degree();
        other.title = "Another".to_owned();
        state.open_read(Ok(OpenedScene { scene: other.clone(), scans: None, file: Some("b.ron".into()) }));
        assert_eq!((state.scene.title.as_str(), state.file.is_some()), ("Another", true));
        state.act(Action::Undo);
        assert_eq!((&state.scene, &state.file), (&before, &None));
        assert_eq!(state.as_read, Scene::thirty_degree());
        state.act(Action::Redo);
        assert_eq!(state.scene, other);
    }

    #[test]
    fn a_cusp_picked_on_a_cast_and_a_mark_are_undone() {
        let mut state = with_casts();
        let (scene, marks) = (state.scene.clone(), state.marks.clone());
        let other = marks.iter().position(Option::is_none).unwrap();
        state.act(Action::Mark(other, true));
        state.act(Action::RemoveCusp(0));
        assert_ne!(state.scene.cusps.len(), scene.cusps.len());
        state.act(Action::Undo);
        state.act(Action::Undo);
        assert_eq!((&state.scene, &state.marks), (&scene, &marks));
    }

    /// One of the changes that a person can make, by number.
    fn change(number: usize, part: f64) -> Action {
        let settings: Vec<Setting> = setting::all().collect();
        match number % (settings.len() + 4) {
            0 => Action::Zero,
            1 => Action::BackToFile,
            2 => Action::Choose(Choice::Design, Side::Right, if part < 0.5 { "Arcon" } else { "NonArcon" }),
            3 => Action::Mark(number % 5, part < 0.5),
            other => {
                let setting = settings[other - 4];
                let facts = setting.facts();
                let side = if part < 0.5 { Side::Right } else { Side::Left };
                Action::Set(setting, side, facts.min + (facts.max - facts.min) * part)
            }
        }
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(24))]
        #[test]
        fn every_change_is_undone_and_redone(changes in prop::collection::vec((0..200_usize, 0.0..1.0_f64), 1..12)) {
            let mut state = opened();
            let mut past = vec![state.moment()];
            for (number, part) in changes {
                state.act(change(number, part));
                state.act(Action::LetGo);
                if !past.last().unwrap().is_same(&state.moment()) {
                    past.push(state.moment());
                }
            }
            let depth = past.len() - 1;
            prop_assert_eq!(state.history.depth(), (depth, 0));
            for moment in past.iter().rev().skip(1) {
                state.act(Action::Undo);
                prop_assert!(moment.is_same(&state.moment()));
            }
            prop_assert_eq!(&state.scene, &state.as_read);
            for moment in &past[1..] {
                state.act(Action::Redo);
                prop_assert!(moment.is_same(&state.moment()));
            }
        }
    }
}
