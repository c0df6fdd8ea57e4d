//! Lessons and vivas being given: where in them one is, what was answered, what is said.

mod given;
mod shelf;
mod viva;

pub use given::{Given, GivenStep, Told};
pub use shelf::{Offer, OpenedLesson, Shelf};
pub use viva::Examined;

use std::sync::Arc;

use sim_core::viva::VivaLevel;

/// What is being given.
#[derive(Clone, Debug)]
pub enum Course {
    /// A lesson.
    Lesson(Box<Given>),
    /// A viva.
    Viva(Box<Examined>),
}

/// Seeds of a viva are drawn below this: small enough to be read aloud.
pub const VIVA_SEEDS: u64 = 1_000_000;

/// What there is to choose from, and what is being given.
#[derive(Clone, Debug, Default)]
pub struct Teaching {
    /// The scenes and lessons that come with the program.
    pub shelf: Arc<Shelf>,
    /// What is being given, if anything.
    pub course: Option<Course>,
}

/// What a person does on the page of lessons.
#[derive(Clone, Debug, PartialEq)]
pub enum Teach {
    /// Shows the page.
    Page,
    /// Opens a lesson that comes with the program.
    Lesson(String),
    /// Opens a scene that comes with the program.
    Scene(String),
    /// Begins a viva.
    Viva(VivaLevel),
    /// Goes to the next step, or question.
    Next,
    /// Goes back to the step before.
    Back,
    /// Starts the step again, as the lesson has it.
    Again,
    /// Gives the answer of that place.
    Choose(usize),
    /// Types a part of a number.
    Type(String),
    /// Gives the number typed.
    Answer,
    /// Has the set-up looked at.
    Check,
    /// Gives up: the right answer is shown.
    Show,
    /// Leaves: a person's own set-up comes back.
    Leave,
}

impl Teaching {
    /// The lesson being given, if one is.
    #[must_use]
    pub const fn lesson(&self) -> Option<&Given> {
        match &self.course {
            Some(Course::Lesson(given)) => Some(given),
            _ => None,
        }
    }

    /// The viva being held, if one is.
    #[must_use]
    pub const fn viva(&self) -> Option<&Examined> {
        match &self.course {
            Some(Course::Viva(examined)) => Some(examined),
            _ => None,
        }
    }

    /// Whether the excursion stays hidden until the question is over.
    #[must_use]
    pub fn hides_the_motion(&self) -> bool {
        match &self.course {
            None => false,
            Some(Course::Lesson(given)) => given.hides_the_motion(),
            Some(Course::Viva(examined)) => examined.chosen.is_none(),
        }
    }
}
