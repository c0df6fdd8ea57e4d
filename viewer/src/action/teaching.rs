//! Lessons and vivas: what each step puts on the stage, and giving a person's own set-up back.

use sim_core::excursion::Excursion;
use sim_core::lesson::{At, Target, View};
use sim_core::viva::VivaLevel;

use crate::history::History;
use crate::opened::{OpenedScene, Request};
use crate::page::{Page, Room};
use crate::projection::{Look, Viewpoint};
use crate::state::{Note, State, free_mark};
use crate::teaching::{Course, Examined, Given, OpenedLesson, Teach};

/// What a lesson or a question puts on the stage.
struct Stage<'s> {
    opened: OpenedScene,
    excursion: Option<Excursion>,
    view: Option<View>,
    points: &'s [Target],
}

impl State {
    /// Whether the excursion is not to be seen yet: predict first, then see.
    #[must_use]
    pub fn motion_is_hidden(&self) -> bool {
        self.teaching.hides_the_motion()
    }

    pub(super) fn teach(&mut self, teach: Teach) -> Option<Request> {
        match teach {
            Teach::Page => self.page = Page::Lesson,
            Teach::Lesson(name) => return Some(Request::Lesson(name)),
            Teach::Scene(name) => return Some(Request::Scene(name)),
            Teach::Viva(level) => return Some(Request::Viva(level)),
            Teach::Leave => self.leave_course(),
            Teach::Next => self.go_on(true),
            Teach::Back => self.go_on(false),
            Teach::Again => {
                if let Some(Course::Lesson(given)) = &mut self.teaching.course {
                    given.again();
                }
                self.set_the_stage();
            }
            Teach::Choose(answer) => {
                match &mut self.teaching.course {
                    Some(Course::Lesson(given)) => given.choose(answer),
                    Some(Course::Viva(examined)) => examined.choose(answer),
                    None => {}
                }
                self.reveal();
            }
            Teach::Type(text) => {
                if let Some(Course::Lesson(given)) = &mut self.teaching.course {
                    given.type_in(text);
                }
            }
            Teach::Answer => {
                if let Some(Course::Lesson(given)) = &mut self.teaching.course {
                    given.answer();
                }
                self.reveal();
            }
            Teach::Check => {
                let made = self.scene.clone();
                if let Some(Course::Lesson(given)) = &mut self.teaching.course {
                    given.check(&made);
                }
            }
            Teach::Show => {
                let solved = match &mut self.teaching.course {
                    Some(Course::Lesson(given)) => given.show(),
                    _ => None,
                };
                match solved {
                    Some(solved) => self.edit(|scene, _| {
                        *scene = solved;
                        Ok(())
                    }),
                    None => self.reveal(),
                }
            }
        }
        None
    }

    /// Takes the answer to [`Request::Lesson`], and of a lesson's file. What cannot be given changes nothing but
    /// the note.
    pub fn lesson_read(&mut self, read: Result<OpenedLesson, String>) {
        match read {
            Ok(opened) => {
                let at = self.place_in_the_same(&opened);
                let mut given = Given::new(opened);
                given.at = at;
                self.begin(Course::Lesson(Box::new(given)));
            }
            Err(what) => {
                self.file_note = Some(Note {
                    title: "Lesson not opened",
                    what,
                    meanwhile: "What was shown before is still shown.",
                });
            }
        }
        self.keep_up();
    }

    /// A lesson that is read again goes on at the step where it was, if it still has it.
    fn place_in_the_same(&self, opened: &OpenedLesson) -> usize {
        match self.teaching.lesson() {
            Some(given) if given.opened.file.is_some() && given.opened.file == opened.file => {
                given.at.min(opened.lesson.steps.len().saturating_sub(1))
            }
            _ => 0,
        }
    }

    /// Takes the answer to [`Request::Viva`]: begins a viva whose questions are drawn from a seed.
    pub fn begin_viva(&mut self, level: VivaLevel, seed: u64) {
        self.begin(Course::Viva(Box::new(Examined::new(level, seed))));
        self.keep_up();
    }

    fn begin(&mut self, course: Course) {
        // From one lesson to the next the person's own set-up stays what it was.
        let own = self.own.take().unwrap_or_else(|| Box::new(self.clone()));
        self.teaching.course = Some(course);
        self.own = Some(own);
        // A lesson has the whole window: neither a bench nor a second set-up stands beside it.
        self.room = Room::Instrument;
        self.bench = None;
        self.kept = None;
        self.set_the_stage();
        self.page = Page::Lesson;
    }

    /// Gives a person's own set-up back.
    pub(super) fn leave_course(&mut self) {
        let Some(own) = self.own.take() else { return };
        let revision = self.shown.revision + 1;
        let (appearance, wanted_panel) = (self.appearance, self.wanted_panel);
        let offers = std::sync::Arc::clone(&self.teaching.shelf);
        let (recent, last_written) = (std::mem::take(&mut self.shelf), self.last_written.take());
        *self = *own;
        (self.shelf, self.last_written) = (recent, last_written);
        self.shown.revision = revision;
        self.appearance = appearance;
        self.wanted_panel = wanted_panel;
        self.teaching.shelf = offers;
        self.playing = false;
        self.page = Page::Lesson;
    }

    fn go_on(&mut self, forward: bool) {
        match &mut self.teaching.course {
            Some(Course::Lesson(given)) => {
                let last = given.steps.len();
                given.at = if forward { (given.at + 1).min(last) } else { given.at.saturating_sub(1) };
                if given.at == last {
                    return;
                }
            }
            Some(Course::Viva(examined)) => {
                if examined.chosen.is_none() {
                    return;
                }
                examined.next();
            }
            None => return,
        }
        self.set_the_stage();
    }

    /// Puts on the stage what the step or the question has.
    fn set_the_stage(&mut self) {
        let Some(course) = self.teaching.course.clone() else { return };
        match &course {
            Course::Lesson(given) => {
                let Some(step) = given.step() else { return };
                let opened =
                    OpenedScene { scene: step.scene.clone(), scans: given.opened.scans.clone(), file: None };
                self.stage(Stage {
                    opened,
                    excursion: step.excursion,
                    view: step.view,
                    points: &step.points,
                });
            }
            Course::Viva(examined) => self.stage(Stage {
                opened: OpenedScene::from(examined.question.scene.clone()),
                excursion: examined.question.excursion,
                view: None,
                points: &[],
            }),
        }
    }

    fn stage(&mut self, stage: Stage<'_>) {
        let kept_look = self.look;
        match Self::open(stage.opened) {
            Ok(fresh) => {
                self.become_fresh(fresh);
                // Nothing before a step is to be undone in it.
                self.history = History::default();
                self.page = Page::Lesson;
            }
            Err(unshowable) => {
                self.file_note = Some(Note {
                    title: "Step not shown",
                    what: unshowable.to_string(),
                    meanwhile: "The step before is still shown.",
                });
                return;
            }
        }
        if let Some(excursion) = stage.excursion {
            let name = excursion.movement().name();
            let same = self.excursions.iter().position(|offered| offered.movement().name() == name);
            let number = same.unwrap_or(self.excursions.len());
            match self.excursions.get_mut(number) {
                Some(offered) => *offered = excursion,
                None => self.excursions.push(excursion),
            }
            self.choose_excursion(number);
        }
        self.at = 0;
        self.look = match stage.view {
            Some(view) => {
                let viewpoint = viewpoint(view);
                Look::at(viewpoint, self.bounds(viewpoint))
            }
            None => kept_look,
        };
        for target in stage.points {
            // What is pointed at is in the plot as well.
            if let Target::Cusp(cusp) = target {
                let free = free_mark(&self.marks);
                if let Some(mark) = self.marks.get_mut(*cusp) {
                    *mark = Some(mark.unwrap_or(free));
                }
            }
        }
        self.reveal();
    }

    /// Goes to where the step has the jaw, unless that is not to be seen yet.
    fn reveal(&mut self) {
        if self.motion_is_hidden() {
            return;
        }
        let at = match &self.teaching.course {
            Some(Course::Lesson(given)) => match given.step() {
                Some(step) if step.excursion.is_some() => step.at,
                _ => return,
            },
            Some(Course::Viva(examined)) if examined.question.excursion.is_some() => None,
            _ => return,
        };
        let solved = &self.shown.solved;
        self.playing = false;
        self.at = match at {
            Some(At::Rest) => 0,
            Some(At::Driven(drive)) => solved.nearest(drive.number()),
            None => solved.samples().len() - 1,
        };
    }

    /// The file of what is shown: of the lesson, while one is given.
    pub(super) fn file_shown(&self) -> Option<std::path::PathBuf> {
        match self.teaching.lesson() {
            Some(given) => given.opened.file.clone(),
            None => self.file.clone(),
        }
    }

    /// The hidden excursion is not shown by the controls either.
    pub(super) fn predict_first(&mut self) {
        self.note = Some(Note {
            title: "Predict first",
            what: "Answer the question; then the excursion is shown.".to_owned(),
            meanwhile: "The jaw is at rest.",
        });
    }
}

const fn viewpoint(view: View) -> Viewpoint {
    match view {
        View::Oblique => Viewpoint::Oblique,
        View::Right => Viewpoint::Right,
        View::Left => Viewpoint::Left,
        View::Front => Viewpoint::Front,
        View::Above => Viewpoint::Above,
        View::Below => Viewpoint::Below,
        View::Axis => Viewpoint::Axis,
    }
}
