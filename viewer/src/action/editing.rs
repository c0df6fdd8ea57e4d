//! Changing the edited scene, and solving what comes of it.

use std::sync::Arc;

use sim_core::excursion::Excursion;
use sim_core::scene::Scene;

use crate::casts::Mounted;
use crate::solved::{SceneWithCasts, SolvedExcursion};
use crate::state::{Note, Rough, Shown, State, carried_marks};

const LAST_GOOD: &str = "The picture shows the last settings that have a pose.";

/// A scene with its casts and its excursion.
struct SolvedScene {
    scene: Scene,
    mounted: Option<Arc<Mounted>>,
    solved: SolvedExcursion,
}

impl State {
    /// Shows another excursion, of the edited scene if it has a pose there, else of the last that had.
    pub(super) fn choose_excursion(&mut self, number: usize) {
        let excursion = self.excursions[number];
        let (next, note) = match self.solve(excursion, false) {
            Ok(next) => (Some(next), None),
            Err(note) => (self.solve_shown(excursion), Some(note)),
        };
        if let Some(next) = next {
            self.excursion = number;
            self.at = 0;
            self.playing_back = false;
            self.show(next);
        }
        self.note = note.or_else(|| self.stopped_note());
    }

    fn show(&mut self, next: SolvedScene) {
        let SolvedScene { scene, mounted, solved } = next;
        self.marks = carried_marks(&self.shown.scene.cusps, &self.marks, &scene.cusps);
        self.shown = Shown { scene, mounted, solved, revision: self.shown.revision + 1 };
        self.rough = None;
    }

    /// Changes the edited scene and solves it; without a pose the picture stays as it is.
    pub(super) fn edit(&mut self, change: impl FnOnce(&mut Scene, bool) -> Result<(), String>) {
        let mut scene = self.scene.clone();
        let tied = self.tied;
        if let Err(refused) = change(&mut scene, tied) {
            self.note = Some(Note {
                title: "Setting refused",
                what: refused,
                meanwhile: "The setting has not changed.",
            });
            return;
        }
        self.scene = scene;
        let driven = match self.rough {
            Some(Rough { driven, .. }) => driven,
            None => Some(self.sample().driven),
        };
        self.solve_edited(true);
        if self.is_rough() {
            self.rough = Some(Rough { rested: 0.0, driven });
        }
    }

    /// What was typed is no number: nothing changes, and it is said.
    pub(super) fn refuse_typed(&mut self, field: &str, typed: &str) {
        /// More of what was typed is not repeated.
        const LONGEST: usize = 40;
        let typed: String = typed.chars().filter(|letter| !letter.is_control()).take(LONGEST).collect();
        self.note = Some(Note {
            title: "Not a number",
            what: format!(
                "“{typed}” is no number for the {field}. Type digits, with a decimal point or comma."
            ),
            meanwhile: "The setting has not changed.",
        });
    }

    /// Solves the edited scene and shows it, roughly or in full.
    pub(super) fn solve_edited(&mut self, rough: bool) {
        let driven = self.rough.and_then(|rough| rough.driven).unwrap_or(self.sample().driven);
        match self.solve(self.excursions[self.excursion], rough) {
            Ok(next) => {
                self.at = if self.at == 0 { 0 } else { next.solved.nearest(driven) };
                // Cusps of invented casts go where the casts have them.
                self.scene.clone_from(&next.scene);
                self.show(next);
                self.note = self.stopped_note();
            }
            Err(note) => {
                self.rough = None;
                self.note = Some(note);
            }
        }
    }

    /// Whether what is shown was solved roughly.
    fn is_rough(&self) -> bool {
        let is_draft = self.shown.mounted.as_ref().is_some_and(|mounted| mounted.is_draft);
        is_draft || self.with_casts().has_tooth_guidance()
    }

    /// Solves an excursion of the edited scene, which may make no sense as a whole.
    fn solve(&self, excursion: Excursion, rough: bool) -> Result<SolvedScene, Note> {
        let no_pose = |what: String| Note { title: "No pose", what, meanwhile: LAST_GOOD };
        let mut scene = self.scene.clone();
        scene.check().map_err(|senseless| no_pose(senseless.to_string()))?;
        let mounted = Mounted::of(&mut scene, self.scans.as_deref(), self.shown.mounted.as_ref(), rough)
            .map_err(|error| Note { title: "No casts", what: error.to_string(), meanwhile: LAST_GOOD })?;
        let casts = mounted.as_ref().map(|mounted| &mounted.casts);
        let solved = SolvedExcursion::solve(SceneWithCasts { scene: &scene, casts, rough }, excursion)
            .map_err(|error| no_pose(words::verdict::refused::no_pose(&error)))?;
        Ok(SolvedScene { scene, mounted, solved })
    }

    /// Solves an excursion of the scene last shown.
    fn solve_shown(&self, excursion: Excursion) -> Option<SolvedScene> {
        let Shown { scene, mounted, .. } = &self.shown;
        let solved = SolvedExcursion::solve(self.with_casts(), excursion).ok()?;
        Some(SolvedScene { scene: scene.clone(), mounted: mounted.clone(), solved })
    }
}

#[cfg(test)]
mod tests {
    use sim_core::frame::Side;
    use sim_core::guide::{ArcPath, CondylarGuide};
    use sim_core::instrument::{Baseline, Instrument};
    use sim_core::scene::Scene;
    use sim_core::setting::{Choice, Setting, check_zeroed};
    use sim_core::units::Angle;

    use crate::action::Action;
    use crate::action::testing::{both, near, opened};

    #[test]
    fn a_side_is_set_alone_unless_both_are_tied() {
        let mut state = opened();
        let inclination = Setting::Guide(&CondylarGuide::HORIZONTAL_INCLINATION);
        state.act(Action::Set(inclination, Side::Right, 41.0));
        assert!(near(both(&state, Setting::Guide(&CondylarGuide::HORIZONTAL_INCLINATION))[0], 41.0));
        assert!(near(both(&state, Setting::Guide(&CondylarGuide::HORIZONTAL_INCLINATION))[1], 30.0));
        state.act(Action::SwapTied);
        state.act(Action::Set(inclination, Side::Left, 35.0));
        assert!(
            both(&state, Setting::Guide(&CondylarGuide::HORIZONTAL_INCLINATION))
                .into_iter()
                .all(|value| near(value, 35.0))
        );
    }

    #[test]
    fn a_setting_moves_the_motion_that_everything_reads() {
        let mut state = opened();
        let before = state.shown.solved.last().readings[1].separation.mm();
        state.act(Action::Set(Setting::Guide(&CondylarGuide::HORIZONTAL_INCLINATION), Side::Right, 45.0));
        let after = state.shown.solved.last().readings[1].separation.mm();
        assert!(after > before + 0.1, "{before} then {after}");
        assert_eq!(state.shown.revision, 1);
    }

    #[test]
    fn a_number_out_of_range_is_refused_with_the_range_and_changes_nothing() {
        let mut state = opened();
        state.act(Action::Set(Setting::Guide(&CondylarGuide::HORIZONTAL_INCLINATION), Side::Right, 200.0));
        assert!(state.note.as_ref().unwrap().what.contains("It goes from"), "{:?}", state.note);
        assert_eq!(state.scene, state.as_read);
        state.act(Action::Dismiss);
        assert_eq!(state.note, None);
    }

    #[test]
    fn a_setting_that_stops_the_excursion_leaves_the_part_before_and_says_so() {
        let mut state = opened();
        state.act(Action::ScrubTo(usize::MAX));
        state.act(Action::Set(Setting::Guide(&CondylarGuide::HORIZONTAL_INCLINATION), Side::Right, 60.0));
        state.act(Action::SwapTied);
        state.act(Action::Choose(Choice::Path, Side::Right, "Arc"));
        assert_eq!(state.note, None);
        state.act(Action::Set(Setting::Arc(&ArcPath::RADIUS), Side::Right, 3.0));
        let note = state.note.clone().unwrap();
        assert!(note.what.contains("path"), "{note:?}");
        assert!(state.sample().driven < 6.0 && state.at == state.shown.solved.samples().len() - 1);
        state.act(Action::BackToFile);
        assert_eq!(state.note, None);
        assert_eq!(state.scene, state.as_read);
    }

    #[test]
    fn a_setting_without_any_pose_keeps_the_last_picture() {
        let mut state = opened();
        state.act(Action::ScrubTo(40));
        let shown = state.shown.revision;
        // A pin let down needs a table.
        state.act(Action::Set(Setting::Instrument(&Instrument::PIN_EXTENSION), Side::Right, 5.0));
        state.act(Action::Choose(Choice::AnteriorGuide, Side::Right, "Incisors"));
        assert!(state.note.as_ref().unwrap().what.contains("pin"), "{:?}", state.note);
        assert_eq!(state.shown.revision, shown + 1);
        assert_eq!(state.at, 40);
        assert_eq!(Choice::AnteriorGuide.get(&state.shown.scene, Side::Right), "Table");
        state.act(Action::Set(Setting::Instrument(&Instrument::PIN_EXTENSION), Side::Right, 0.0));
        assert_eq!(state.note, None);
        assert_eq!(Choice::AnteriorGuide.get(&state.shown.scene, Side::Right), "Incisors");
    }

    #[test]
    fn another_excursion_is_chosen_while_the_edited_scene_has_no_pose() {
        let mut state = opened();
        state.act(Action::Set(Setting::Instrument(&Instrument::PIN_EXTENSION), Side::Right, 5.0));
        state.act(Action::Choose(Choice::AnteriorGuide, Side::Right, "Incisors"));
        state.act(Action::Excursion(1));
        assert_eq!(state.excursion, 1);
        assert!(state.note.is_some());
        assert_eq!(Choice::AnteriorGuide.get(&state.shown.scene, Side::Right), "Table");
        state.act(Action::Set(Setting::Instrument(&Instrument::PIN_EXTENSION), Side::Right, 0.0));
        assert_eq!(state.note, None);
        assert_eq!(state.shown.solved.excursion, state.excursions[1]);
    }

    #[test]
    fn zeroing_leaves_nothing_that_departs_from_the_baseline() {
        let mut state = opened();
        state.act(Action::Choose(Choice::Path, Side::Right, "Arc"));
        state.act(Action::Set(Setting::Guide(&CondylarGuide::WALL_TILT), Side::Left, 7.0));
        state.act(Action::Zero);
        assert_eq!(check_zeroed(&state.scene.instrument, &Baseline::example()), []);

        let mut state = opened();
        let text = state.scene.to_ron().replacen(
            "    title:",
            "    baseline: (lateral_angle_deg: 15.0),\n    title:",
            1,
        );
        state.scene.baseline = Scene::from_ron(&text).expect("a scene").baseline;
        state.act(Action::Zero);
        let own = state.scene.baseline_or_example();
        assert_eq!(state.scene.instrument.left_guide.lateral_angle, Angle::from_degrees(15.0));
        assert_eq!(check_zeroed(&state.scene.instrument, &own), []);
        assert_eq!(check_zeroed(&state.scene.instrument, &Baseline::example()).len(), 2);
    }
}
