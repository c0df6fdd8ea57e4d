//! Keeping a second set-up, and changing places with it.

use std::sync::Arc;

use sim_core::scene::Scene;

use crate::bench::with_facebow_off;
use crate::casts::Mounted;
use crate::kept::{At, FACEBOW_OFF, Kept, SetUp, by_another_facebow};
use crate::opened::{OpenedScene, Request};
use crate::solved::SolvedExcursion;
use crate::state::{Note, Shown, State, carried_marks};

impl State {
    /// Keeps what is shown as B.
    pub(super) fn keep(&mut self) {
        let set_up = self.set_up(self.name());
        self.keep_set_up(set_up);
    }

    /// Forgets B.
    pub(super) fn forget(&mut self) {
        self.kept = None;
    }

    /// Keeps the same scene mounted by a facebow that is off.
    pub(super) fn keep_with_facebow_error(&mut self) {
        let moved = by_another_facebow(&self.shown.scene, FACEBOW_OFF).map_err(|error| error.to_string());
        let name = format!("the same, mounted by a facebow {} mm behind the axis", FACEBOW_OFF.mm());
        match moved.and_then(|scene| self.solvable(scene)) {
            Ok(scene) => {
                let set_up = SetUp { name, scene, ..self.set_up(String::new()) };
                self.keep_set_up(set_up);
            }
            Err(what) => self.refuse_b(what),
        }
    }

    /// Keeps the case on the bench, as it would be programmed by a facebow that is off, as B, and shows it as
    /// programmed.
    pub(super) fn keep_case_with_facebow_error(&mut self) -> Option<Request> {
        let bench = self.bench.clone()?;
        let request = self.set_up_asked(true)?;
        match with_facebow_off(&bench.worked.case, FACEBOW_OFF) {
            Ok(scene) => self.beside_read(Ok(OpenedScene::from(scene))),
            Err(what) => {
                self.refuse_b(what);
                return None;
            }
        }
        Some(request)
    }

    /// Takes the answer to [`Request::OpenBeside`]: what was read is
    /// kept as B; where it could not be read, nothing changes but the note.
    pub fn beside_read(&mut self, read: Result<OpenedScene, String>) {
        let made = read.and_then(|OpenedScene { mut scene, scans, file }| {
            let as_read = scene.clone();
            let mounted =
                Mounted::of(&mut scene, scans.as_deref(), None, false).map_err(|e| e.to_string())?;
            let name = file
                .as_ref()
                .and_then(|file| file.file_name())
                .map_or_else(|| scene.title.clone(), |name| name.to_string_lossy().into_owned());
            Ok(SetUp { name, file, scans, as_read, scene, mounted })
        });
        match made {
            Ok(set_up) => self.keep_set_up(set_up),
            Err(what) => self.refuse_b(what),
        }
        self.follow_kept();
    }

    /// A and B change places; the excursion and the place along it stay.
    pub(super) fn swap_kept(&mut self) {
        let Some(kept) = self.kept.take() else {
            return self.refuse_b("There is no B to change places with. K keeps what is shown.".to_owned());
        };
        let Some(solved) = kept.solved.clone() else {
            let what = kept.now.clone().err().unwrap_or_default();
            self.kept = Some(kept);
            return self.refuse_b(what);
        };
        let mine = self.set_up(self.name());
        let theirs = &kept.set_up;
        self.marks = carried_marks(&self.shown.scene.cusps, &self.marks, &theirs.scene.cusps);
        self.at = if self.at == 0 { 0 } else { solved.nearest(self.sample().driven) };
        self.file.clone_from(&theirs.file);
        self.scans.clone_from(&theirs.scans);
        self.as_read = theirs.as_read.clone();
        self.scene = theirs.scene.clone();
        self.shown = Shown {
            scene: theirs.scene.clone(),
            mounted: theirs.mounted.clone(),
            solved,
            revision: self.shown.revision + 1,
        };
        self.rough = None;
        self.proposal = None;
        self.keep_set_up(mine);
        self.note = self.stopped_note();
    }

    /// B goes where A is.
    pub(crate) fn follow_kept(&mut self) {
        let at = At {
            excursion: self.shown.solved.excursion,
            is_start: self.at == 0,
            driven: self.sample().driven,
        };
        if let Some(kept) = &mut self.kept {
            kept.follow(at);
        }
    }

    fn keep_set_up(&mut self, set_up: SetUp) {
        self.kept = Some(Kept::new(Arc::new(set_up)));
    }

    fn set_up(&self, name: String) -> SetUp {
        SetUp {
            name,
            file: self.file.clone(),
            scans: self.scans.clone(),
            as_read: self.as_read.clone(),
            scene: self.shown.scene.clone(),
            mounted: self.shown.mounted.clone(),
        }
    }

    /// What is shown, by its file's name or title, and whether it is as it was read.
    fn name(&self) -> String {
        let name = self
            .file
            .as_ref()
            .and_then(|file| file.file_name())
            .map_or_else(|| self.shown.scene.title.clone(), |name| name.to_string_lossy().into_owned());
        if self.shown.scene == self.as_read { name } else { format!("{name}, settings changed") }
    }

    fn solvable(&self, scene: Scene) -> Result<Scene, String> {
        scene.check().map_err(|senseless| senseless.to_string())?;
        SolvedExcursion::solve(&scene, self.shown.solved.excursion).map_err(|no_pose| no_pose.to_string())?;
        Ok(scene)
    }

    fn refuse_b(&mut self, what: String) {
        self.file_note =
            Some(Note { title: "Second set-up", what, meanwhile: "Both set-ups stay as they were." });
    }
}

#[cfg(test)]
mod tests {
    use sim_core::frame::Side;
    use sim_core::guide::{ArcPath, CondylarGuide};
    use sim_core::scene::Scene;
    use sim_core::setting::{Choice, Setting};

    use crate::action::testing::{near, opened, with_casts};
    use crate::action::{Action, STEP};
    use crate::opened::OpenedScene;
    use crate::solved::SolvedExcursion;
    use crate::state::State;

    const INCLINATION: Setting = Setting::Guide(&CondylarGuide::HORIZONTAL_INCLINATION);

    /// Thirty degrees kept, fifty shown.
    fn thirty_and_fifty() -> State {
        let mut state = opened();
        state.act(Action::Keep);
        state.act(Action::SwapTied);
        state.act(Action::Set(INCLINATION, Side::Right, 50.0));
        state
    }

    #[test]
    fn b_stands_at_the_same_place_of_the_same_excursion_as_a() {
        let mut state = thirty_and_fifty();
        let thirty = Scene::thirty_degree();
        for excursion in 0..state.excursions.len() {
            state.act(Action::Excursion(excursion));
            for _ in 0..3 {
                state.act(Action::Step(1.3));
            }
            let kept = state.kept.as_ref().unwrap();
            let (driven, now) = (state.sample().driven, kept.now.as_ref().unwrap());
            assert!(near(now.driven, driven) && driven > 1.0);
            let (alone, number) =
                SolvedExcursion::solve_to(&thirty, state.excursions[excursion], driven).unwrap();
            assert_eq!(now.placement, alone.sample(number).placement);
            for cusp in &state.shown.scene.cusps {
                let place = kept.number_of(cusp).unwrap();
                assert_eq!(kept.reading_of(cusp).unwrap(), alone.sample(number).readings[place]);
            }
        }
    }

    #[test]
    fn before_an_immediate_translation_both_are_at_rest_and_after_it_neither() {
        let mut state = opened();
        let shift = Setting::Guide(&CondylarGuide::IMMEDIATE_TRANSLATION);
        state.act(Action::SwapTied);
        state.act(Action::Set(shift, Side::Right, 1.0));
        state.act(Action::Keep);
        state.act(Action::Excursion(1));
        let medial =
            |state: &State| state.kept.as_ref().unwrap().now.as_ref().unwrap().placement.left.medial.mm();
        assert!(near(medial(&state), 0.0));
        state.act(Action::Step(STEP));
        assert!(near(state.sample().driven, 0.0) && near(medial(&state), 1.0));
    }

    #[test]
    fn swapping_twice_changes_nothing_and_once_changes_both() {
        let mut state = thirty_and_fifty();
        state.act(Action::Step(3.0));
        let (a, b) = (state.scene.clone(), state.kept.as_ref().unwrap().set_up.scene.clone());
        let (driven, pose) = (state.sample().driven, state.sample().placement);
        state.act(Action::SwapKept);
        assert_eq!((&state.scene, &state.kept.as_ref().unwrap().set_up.scene), (&b, &a));
        assert_eq!(state.kept.as_ref().unwrap().now.as_ref().unwrap().placement, pose);
        assert!(near(state.sample().driven, driven));
        state.act(Action::SwapKept);
        assert_eq!((&state.scene, &state.kept.as_ref().unwrap().set_up.scene), (&a, &b));
        assert_eq!(state.sample().placement, pose);
        // And all of it can be taken back.
        state.act(Action::SwapKept);
        state.act(Action::Undo);
        assert_eq!((&state.scene, &state.kept.as_ref().unwrap().set_up.scene), (&a, &b));
        state.act(Action::Forget);
        assert!(state.kept.is_none());
        state.act(Action::SwapKept);
        assert!(state.file_note.is_some() && state.scene == a);
    }

    #[test]
    fn where_b_has_no_pose_it_says_so_and_a_goes_on() {
        let mut state = opened();
        state.act(Action::SwapTied);
        state.act(Action::Choose(Choice::Path, Side::Right, "Arc"));
        state.act(Action::Set(Setting::Arc(&ArcPath::RADIUS), Side::Right, 3.0));
        state.act(Action::Keep);
        state.act(Action::Choose(Choice::Path, Side::Right, "Straight"));
        state.act(Action::ScrubTo(usize::MAX));
        assert!(near(state.sample().driven, 6.0));
        let kept = state.kept.as_ref().unwrap();
        assert!(kept.now.as_ref().unwrap_err().contains("arc"), "{:?}", kept.now);
        assert!(kept.reading_of(&state.shown.scene.cusps[0]).is_none());
        state.act(Action::ScrubTo(20));
        assert!(state.kept.as_ref().unwrap().now.is_ok());
    }

    #[test]
    fn another_file_is_kept_beside_and_a_bad_one_changes_nothing() {
        let mut state = opened();
        let mut other = Scene::thirty_degree();
        other.title = "the other".to_owned();
        state.beside_read(Ok(OpenedScene::from(other)));
        assert_eq!(state.kept.as_ref().unwrap().set_up.name, "the other");
        assert!(state.kept.as_ref().unwrap().now.is_ok());
        state.beside_read(Err("no such file".to_owned()));
        assert_eq!(state.kept.as_ref().unwrap().set_up.name, "the other");
        assert!(state.file_note.as_ref().unwrap().what.contains("no such file"));
    }

    #[test]
    fn a_facebow_behind_the_axis_puts_every_tooth_forward_and_leaves_the_instrument() {
        let mut state = opened();
        state.act(Action::KeepWithFacebowError);
        let kept = state.kept.as_ref().unwrap();
        assert_eq!(kept.set_up.scene.instrument, state.scene.instrument);
        for (theirs, own) in kept.set_up.scene.cusps.iter().zip(&state.scene.cusps) {
            let moved = theirs.at_mm() - own.at_mm();
            assert!(near(moved.x, 5.0) && near(moved.y, 0.0) && near(moved.z, 0.0));
        }
        let mut state = with_casts();
        state.act(Action::KeepWithFacebowError);
        assert!(state.kept.is_none() && state.file_note.is_some());
    }
}
