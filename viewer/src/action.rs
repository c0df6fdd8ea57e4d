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
            self.note = Some(Note { what: refused, meanwhile: "The setting is as it was." });
            return;
        }
        self.scene = scene;
        if let Err(senseless) = self.scene.check() {
            self.note = Some(Note { what: senseless.to_string(), meanwhile: LAST_GOOD });
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
                self.file_note =
                    Some(Note { what: error.to_string(), meanwhile: "The scene before it is still shown." });
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
    Note { what: no_pose.to_string(), meanwhile: LAST_GOOD }
}

fn sides(side: Side, both: bool) -> impl Iterator<Item = Side> {
    Side::BOTH.into_iter().filter(move |own| both || *own == side)
}
