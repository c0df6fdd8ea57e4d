//! What a person can do, and what it does to the state. Nothing else changes the state.

use std::path::{Path, PathBuf};

use sim_core::excursion::NoPose;
use sim_core::frame::Side;
use sim_core::scene::Scene;
use sim_core::setting::{Choice, Setting};

use crate::course::Course;
use crate::drawing;
use crate::error::FileError;
use crate::file;
use crate::projection::{Look, Viewpoint};
use crate::state::{Moving, Note, Shown, State, free_mark};

/// Speed of play, in millimetres (degrees) a second.
const SPEED: f64 = 1.5;
/// A step by hand, in millimetres (degrees).
pub const STEP: f64 = 0.25;
/// A position this near to the last counts as there.
const THERE: f64 = 1e-9;

/// Something a person does.
#[derive(Clone, Debug)]
pub enum Action {
    /// Plays, or pauses.
    PlayOrPause,
    /// Steps along the excursion, in millimetres (degrees).
    Step(f64),
    /// Goes to the stop of that number.
    ScrubTo(usize),
    /// Chooses an excursion.
    Excursion(usize),
    /// Chooses the next excursion in the list (or the one before).
    ExcursionAfter(isize),
    /// Looks from a viewpoint.
    View(Viewpoint),
    /// Turns the picture, degrees.
    Turn(f64, f64),
    /// Moves the point looked at, millimetres.
    Shift(nalgebra::Vector3<f64>),
    /// Shows less (below one) or more of the world.
    Zoom(f64),
    /// Which member moves.
    Move(Moving),
    /// Moves the other member.
    SwapMoving,
    /// Sets both sides together, or each alone.
    Tie(bool),
    /// Turns tying round.
    SwapTied,
    /// Sets a number.
    Set(Setting, Side, f64),
    /// Chooses a word.
    Choose(Choice, Side, &'static str),
    /// Marks a cusp or not.
    Mark(usize, bool),
    /// Back to the file's values.
    BackToFile,
    /// To the zeroed baseline.
    Zero,
    /// Reads the file again.
    Reload,
    /// Opens a file.
    Open(PathBuf),
    /// Opens or closes help.
    Help,
    /// Puts away help or a note.
    PutAway,
    /// Closes the window.
    Quit,
}

impl State {
    /// Does it.
    pub fn act(&mut self, action: Action) {
        match action {
            Action::PlayOrPause => self.play_or_pause(),
            Action::Step(by) => self.step(by),
            Action::ScrubTo(stop) => {
                self.playing = false;
                self.at = stop.min(self.shown.course.stops().len() - 1);
            }
            Action::Excursion(number) if number < self.excursions.len() => self.choose_excursion(number),
            Action::Excursion(_) => {}
            Action::ExcursionAfter(by) => {
                let count = self.excursions.len();
                self.choose_excursion((self.excursion + count).saturating_add_signed(by) % count);
            }
            Action::View(viewpoint) => {
                let scene = &self.shown.scene;
                let bounds = match viewpoint {
                    Viewpoint::Axis => drawing::axis_bounds(&scene.instrument),
                    _ => drawing::bounds(scene),
                };
                self.look = Look::at(viewpoint, bounds);
            }
            Action::Turn(azimuth, elevation) => self.look.turn(azimuth, elevation),
            Action::Shift(by) => self.look.focus += by,
            Action::Zoom(factor) => self.look.zoom(factor),
            Action::Move(moving) => self.moving = moving,
            Action::SwapMoving => {
                self.moving = match self.moving {
                    Moving::Lower => Moving::Upper,
                    Moving::Upper => Moving::Lower,
                }
            }
            Action::Tie(tied) => self.tied = tied,
            Action::SwapTied => self.tied = !self.tied,
            Action::Set(setting, side, number) => self.edit(|scene, tied| {
                for side in sides(side, tied && setting.is_per_side()) {
                    // Where only one side has such a thing, the other is left as it is.
                    if setting.get(scene, side).is_some() {
                        setting.set(scene, side, number).map_err(|error| error.to_string())?;
                    }
                }
                Ok(())
            }),
            Action::Choose(choice, side, word) => self.edit(|scene, tied| {
                for side in sides(side, tied && choice.is_per_side()) {
                    choice.set(scene, side, word);
                }
                Ok(())
            }),
            Action::Mark(cusp, marked) => {
                let free = free_mark(&self.marks);
                if let Some(mark) = self.marks.get_mut(cusp) {
                    *mark = marked.then(|| mark.unwrap_or(free));
                }
            }
            Action::BackToFile => {
                let scene = self.as_read.clone();
                self.edit(|own, _| {
                    *own = scene;
                    Ok(())
                });
            }
            Action::Zero => self.edit(|scene, _| {
                scene.instrument = scene.instrument.with_settings_zeroed();
                Ok(())
            }),
            Action::Reload => {
                if let Some(file) = self.file.clone() {
                    self.open_file(&file);
                }
            }
            Action::Open(file) => self.open_file(&file),
            Action::Help => self.help = !self.help,
            Action::PutAway => self.put_away(),
            Action::Quit => self.done = true,
        }
    }

    fn put_away(&mut self) {
        if self.help {
            self.help = false;
        } else if self.file_note.take().is_none() {
            self.note = None;
        }
    }

    fn play_or_pause(&mut self) {
        self.playing = !self.playing;
        self.since_stop = 0.0;
        if self.playing && self.at + 1 >= self.shown.course.stops().len() {
            self.playing_back = false;
            self.at = 0;
        }
    }

    fn step(&mut self, by: f64) {
        self.playing = false;
        let course = &self.shown.course;
        let next = course.nearest(self.stop().driven + by);
        // A side shift is a stop of its own, at the same position.
        self.at = match by {
            by if by > 0.0 && next <= self.at => (self.at + 1).min(course.stops().len() - 1),
            by if by > 0.0
                && self.at == 0
                && course.stops().get(1).is_some_and(|stop| stop.driven < THERE) =>
            {
                1
            }
            by if by < 0.0 && next >= self.at => self.at.saturating_sub(1),
            _ => next,
        };
    }

    /// Lets time pass while playing: there and back again.
    pub fn pass(&mut self, seconds: f64) {
        if !self.playing {
            return;
        }
        self.since_stop += seconds * SPEED;
        let stops = self.shown.course.stops();
        loop {
            let next = if self.playing_back { self.at.checked_sub(1) } else { Some(self.at + 1) };
            let Some(next) = next.filter(|next| *next < stops.len()) else {
                self.playing_back = !self.playing_back;
                self.since_stop = 0.0;
                return;
            };
            let apart = (stops[next].driven - stops[self.at].driven).abs();
            if apart > self.since_stop {
                return;
            }
            self.since_stop -= apart;
            self.at = next;
        }
    }

    fn choose_excursion(&mut self, number: usize) {
        match Course::solve(&self.shown.scene, self.excursions[number]) {
            Ok(course) => {
                self.excursion = number;
                self.at = 0;
                self.playing_back = false;
                self.show(self.shown.scene.clone(), course);
                self.note = self.stopped_note();
            }
            Err(no_pose) => self.note = Some(no_pose_note(&no_pose)),
        }
    }

    fn show(&mut self, scene: Scene, course: Course) {
        self.shown = Shown { scene, course, revision: self.shown.revision + 1 };
    }

    /// Changes the edited scene and solves it; without a pose the picture stays as it is.
    fn edit(&mut self, change: impl FnOnce(&mut Scene, bool) -> Result<(), String>) {
        let mut scene = self.scene.clone();
        let tied = self.tied;
        if let Err(refused) = change(&mut scene, tied) {
            self.note =
                Some(Note { title: "Not set", what: refused, meanwhile: "The setting is as it was." });
            return;
        }
        self.scene = scene;
        if let Err(senseless) = self.scene.check() {
            self.note = Some(Note { title: "No pose", what: senseless.to_string(), meanwhile: LAST_GOOD });
            return;
        }
        match Course::solve(&self.scene, self.excursions[self.excursion]) {
            Ok(course) => {
                let driven = self.stop().driven;
                let seated = self.at == 0;
                self.at = if seated { 0 } else { course.nearest(driven) };
                self.show(self.scene.clone(), course);
                self.note = self.stopped_note();
            }
            Err(no_pose) => self.note = Some(no_pose_note(&no_pose)),
        }
    }

    /// Opens a file; a bad one changes nothing but the note.
    fn open_file(&mut self, path: &Path) {
        let opened = file::read(path).and_then(|scene| {
            Self::open(scene, Some(path.to_owned()))
                .map_err(|no_pose| FileError::NoPose { file: path.display().to_string(), no_pose })
        });
        match opened {
            Ok(fresh) => {
                let revision = self.shown.revision + 1;
                let same_file = self.file == fresh.file;
                let before = std::mem::replace(self, fresh);
                self.shown.revision = revision;
                self.tied = before.tied;
                self.moving = before.moving;
                if same_file {
                    self.look = before.look;
                    self.stay_at(&before);
                }
            }
            Err(error) => {
                self.file_note = Some(Note {
                    title: "File not opened",
                    what: error.to_string(),
                    meanwhile: "The scene before it is still shown.",
                });
            }
        }
    }

    /// After a reload: the same excursion, position and cusps, where they still exist.
    fn stay_at(&mut self, before: &Self) {
        if self.shown.scene.cusps.len() == before.marks.len() {
            self.marks.clone_from(&before.marks);
        }
        let name = before.shown.course.excursion.movement().name();
        if let Some(number) = self.excursions.iter().position(|own| own.movement().name() == name) {
            self.choose_excursion(number);
            self.at = self.shown.course.nearest(before.stop().driven).min(before.at);
        }
    }
}

const LAST_GOOD: &str = "The picture shows the last settings that have a pose.";

fn no_pose_note(no_pose: &NoPose) -> Note {
    Note { title: "No pose", what: no_pose.to_string(), meanwhile: LAST_GOOD }
}

fn sides(side: Side, both: bool) -> impl Iterator<Item = Side> {
    Side::BOTH.into_iter().filter(move |own| both || *own == side)
}

#[cfg(test)]
mod tests {
    use super::*;
    use sim_core::setting;

    fn opened() -> State {
        State::open(Scene::thirty_degree(), None).unwrap()
    }

    fn named(key: &str) -> Setting {
        setting::all().find(|setting| setting.key() == key).unwrap()
    }

    fn both(state: &State, key: &str) -> [f64; 2] {
        Side::BOTH.map(|side| named(key).get(&state.scene, side).unwrap())
    }

    fn near(a: f64, b: f64) -> bool {
        (a - b).abs() < 1e-9
    }

    #[test]
    fn a_side_is_set_alone_unless_both_are_tied() {
        let mut state = opened();
        let inclination = named("horizontal_inclination_deg");
        state.act(Action::Set(inclination, Side::Right, 41.0));
        assert!(near(both(&state, "horizontal_inclination_deg")[0], 41.0));
        assert!(near(both(&state, "horizontal_inclination_deg")[1], 30.0));
        state.act(Action::SwapTied);
        state.act(Action::Set(inclination, Side::Left, 35.0));
        assert!(both(&state, "horizontal_inclination_deg").into_iter().all(|value| near(value, 35.0)));
    }

    #[test]
    fn a_setting_moves_the_motion_that_everything_reads() {
        let mut state = opened();
        let before = state.shown.course.last().readings[1].separation.in_mm();
        state.act(Action::Set(named("horizontal_inclination_deg"), Side::Right, 45.0));
        let after = state.shown.course.last().readings[1].separation.in_mm();
        assert!(after > before + 0.1, "{before} then {after}");
        assert_eq!(state.shown.revision, 1);
    }

    #[test]
    fn a_number_out_of_range_is_refused_with_the_range_and_changes_nothing() {
        let mut state = opened();
        state.act(Action::Set(named("horizontal_inclination_deg"), Side::Right, 200.0));
        assert!(state.note.as_ref().unwrap().what.contains("allowed"), "{:?}", state.note);
        assert_eq!(state.scene, state.as_read);
        state.act(Action::PutAway);
        assert_eq!(state.note, None);
    }

    #[test]
    fn a_setting_that_stops_the_excursion_leaves_the_part_before_and_says_so() {
        let mut state = opened();
        state.act(Action::ScrubTo(usize::MAX));
        state.act(Action::Set(named("horizontal_inclination_deg"), Side::Right, 60.0));
        state.act(Action::SwapTied);
        state.act(Action::Choose(Choice::Path, Side::Right, "Arc"));
        assert_eq!(state.note, None);
        state.act(Action::Set(named("path.radius_mm"), Side::Right, 3.0));
        let note = state.note.clone().unwrap();
        assert!(note.what.contains("path"), "{note:?}");
        assert!(state.stop().driven < 6.0 && state.at == state.shown.course.stops().len() - 1);
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
        state.act(Action::Set(named("pin_extension_mm"), Side::Right, 5.0));
        state.act(Action::Choose(Choice::AnteriorGuide, Side::Right, "Incisors"));
        assert!(state.note.as_ref().unwrap().what.contains("pin"), "{:?}", state.note);
        assert_eq!(state.shown.revision, shown + 1);
        assert_eq!(state.at, 40);
        assert_eq!(Choice::AnteriorGuide.get(&state.shown.scene, Side::Right), "Table");
        state.act(Action::Set(named("pin_extension_mm"), Side::Right, 0.0));
        assert_eq!(state.note, None);
        assert_eq!(Choice::AnteriorGuide.get(&state.shown.scene, Side::Right), "Incisors");
    }

    #[test]
    fn zeroing_leaves_nothing_that_departs_from_the_baseline() {
        let mut state = opened();
        state.act(Action::Choose(Choice::Path, Side::Right, "Arc"));
        state.act(Action::Set(named("wall_tilt_deg"), Side::Left, 7.0));
        state.act(Action::Zero);
        assert!(sim_core::instrument::check_zeroed(&state.scene.instrument).is_empty());
    }

    #[test]
    fn steps_go_forward_and_back_through_a_side_shift_at_rest() {
        let mut state = opened();
        state.act(Action::Set(named("immediate_translation_mm"), Side::Left, 1.0));
        let lateral = state.excursions.iter().position(|e| e.movement().name() == "right_lateral").unwrap();
        state.act(Action::Excursion(lateral));
        assert_eq!(state.at, 0);
        state.act(Action::Step(STEP));
        assert!(state.at == 1 && near(state.stop().driven, 0.0));
        state.act(Action::Step(STEP));
        assert!(near(state.stop().driven, STEP));
        for _ in 0..2 {
            state.act(Action::Step(-STEP));
        }
        assert_eq!(state.at, 0);
        state.act(Action::Step(-STEP));
        assert_eq!(state.at, 0);
    }

    #[test]
    fn playing_goes_there_and_back_at_an_even_speed() {
        let mut state = opened();
        state.act(Action::PlayOrPause);
        for _ in 0..20 {
            state.pass(0.1);
        }
        assert!(near(state.stop().driven, 3.0), "{}", state.stop().driven);
        for _ in 0..25 {
            state.pass(0.1);
        }
        assert!(state.playing_back && state.stop().driven < 6.0);
        state.act(Action::PlayOrPause);
        let at = state.at;
        state.pass(10.0);
        assert_eq!(state.at, at);
    }

    #[test]
    fn a_cusp_marked_later_takes_the_lowest_free_mark() {
        let mut state = opened();
        let marked: Vec<_> = state.marked().collect();
        assert_eq!(marked.len(), 4);
        let (first, mark) = marked[0];
        state.act(Action::Mark(first, false));
        let other = (0..state.marks.len()).find(|cusp| !marked.iter().any(|(own, _)| own == cusp)).unwrap();
        state.act(Action::Mark(other, true));
        assert_eq!(state.marks[other], Some(mark));
        // No such cusp: nothing happens.
        state.act(Action::Mark(99, true));
    }

    #[test]
    fn a_file_that_is_no_scene_changes_nothing_but_the_note() {
        let folder = tempfile::tempdir().unwrap();
        let good = folder.path().join("good.ron");
        std::fs::write(&good, Scene::thirty_degree().to_ron()).unwrap();
        let bad = folder.path().join("bad.ron");
        std::fs::write(&bad, "(title: \"no more\"").unwrap();
        let mut state = opened();
        state.act(Action::Open(good.clone()));
        assert_eq!(state.file, Some(good.clone()));
        for wrong in [bad, folder.path().join("absent.ron"), folder.path().to_owned()] {
            state.act(Action::Open(wrong.clone()));
            let note = state.file_note.clone().unwrap();
            assert!(note.what.contains(&wrong.display().to_string()), "{note:?}");
            assert_eq!(state.file, Some(good.clone()));
        }
        state.act(Action::Open(good));
        assert_eq!(state.file_note, None);
    }

    #[test]
    fn reading_the_file_again_keeps_the_look_the_excursion_and_the_place() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("scene.ron");
        let mut scene = Scene::thirty_degree();
        std::fs::write(&path, scene.to_ron()).unwrap();
        let mut state = State::open(scene.clone(), Some(path.clone())).unwrap();
        state.act(Action::Excursion(2));
        state.act(Action::ScrubTo(50));
        state.act(Action::View(Viewpoint::Front));
        named("lateral_angle_deg").set(&mut scene, Side::Right, 22.0).unwrap();
        std::fs::write(&path, scene.to_ron()).unwrap();
        state.act(Action::Reload);
        assert!(near(both(&state, "lateral_angle_deg")[0], 22.0));
        assert_eq!((state.excursion, state.at), (2, 50));
        assert_eq!(state.look.viewpoint, Some(Viewpoint::Front));
    }
}
