//! A lesson that has been looked into: sound, with everything computed that it leaves to the solver.

use std::sync::Arc;

use super::fault::{Fault, Wrong};
use super::file::{Cited, LessonFile};
use super::look_at_text::Faults;
use super::prose::unbroken;
use super::situation::Situation;
use super::step::Step;
use crate::cast::Casts;
use crate::scene::Scene;

/// A sound lesson.
#[derive(Clone, Debug)]
pub struct Lesson {
    /// What it is called.
    pub title: String,
    /// What it teaches.
    pub about: String,
    /// Where that comes from.
    pub sources: Vec<Cited>,
    /// The set-up at which it starts.
    pub start: Scene,
    /// The casts on it, where it has any.
    pub casts: Option<Arc<Casts>>,
    /// Its steps.
    pub steps: Vec<Step>,
}

impl Lesson {
    /// Looks into a lesson, with the scene that its set-up names and the casts of that scene.
    ///
    /// # Errors
    /// Every [`Fault`] that can be told; [`Fault::placed`] finds its line.
    pub fn of(file: &LessonFile, start: Scene, casts: Option<Arc<Casts>>) -> Result<Self, Vec<Fault>> {
        let mut faults = Vec::new();
        let whole = |field, what| Fault { step: None, field, quoted: None, part: String::new(), what };
        for (field, text) in [("title", &file.title), ("about", &file.about)] {
            if text.trim().is_empty() {
                faults.push(whole(field, Wrong::Empty { field }));
            }
        }
        let named = |cited: &Cited| match cited {
            Cited::Published(name) | Cited::CommonPractice(name) | Cited::Geometry(name) => name.clone(),
        };
        if file.sources.is_empty() || file.sources.iter().any(|cited| named(cited).trim().is_empty()) {
            faults.push(whole("sources", Wrong::NoSource));
        }
        if file.steps.is_empty() {
            faults.push(whole("steps", Wrong::NoStep));
        }
        let mut steps = Vec::new();
        let mut before = start.clone();
        for (number, fields) in file.steps.iter().enumerate() {
            let from = if fields.afresh { start.clone() } else { before };
            let mut own = Faults { step: number, all: &mut faults };
            let step = own.look_at(fields, from, &start, casts.as_ref());
            before = step.scene.clone();
            steps.push(step);
        }
        let (title, about) = (file.title.trim().to_owned(), unbroken(&file.about).trim().to_owned());
        if faults.is_empty() {
            Ok(Self { title, about, sources: file.sources.clone(), start, casts, steps })
        } else {
            Err(faults)
        }
    }

    /// The situation of a step, as the lesson has it.
    #[must_use]
    pub fn situation<'l>(&'l self, step: &'l Step) -> Situation<'l> {
        Situation {
            scene: &step.scene,
            start: &self.start,
            casts: self.casts.as_ref(),
            excursion: step.excursion,
            at: step.at,
        }
    }
}
