//! What the report says of a lesson or a viva.

use serde::Serialize;
use sim_core::lesson::Question;

use crate::state::State;
use crate::teaching::Course;

/// A lesson or a viva being given.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub(super) struct LessonLine {
    title: String,
    /// The step or question, from 1; one more than there are once a lesson is over.
    step: u64,
    /// Steps of a lesson; none of a viva.
    steps: Option<usize>,
    /// `choice`, `number`, `set`, or none where nothing is asked.
    question: Option<&'static str>,
    /// Place of the right answer among those to choose, from 0.
    right: Option<usize>,
    /// What is said to the last answer.
    told: Option<String>,
    is_right: Option<bool>,
    is_over: bool,
    /// Whether the excursion is not to be seen yet.
    hidden: bool,
    /// Questions, and answered right at once.
    score: (usize, usize),
}

pub(super) fn line(state: &State) -> Option<LessonLine> {
    let hidden = state.motion_is_hidden();
    Some(match state.teaching.course.as_ref()? {
        Course::Lesson(given) => {
            let done = given.done();
            let told = done.and_then(|done| done.told.as_ref());
            LessonLine {
                title: given.lesson().title.clone(),
                step: given.at as u64 + 1,
                steps: Some(given.steps.len()),
                question: given.question().map(|question| match question {
                    Question::Choice(_) => "choice",
                    Question::Number(_) => "number",
                    Question::Set(_) => "set",
                }),
                right: given.question().and_then(|question| match question {
                    Question::Choice(choice) => Some(choice.right),
                    Question::Number(_) | Question::Set(_) => None,
                }),
                told: told.map(|told| told.words.clone()),
                is_right: told.and_then(|told| told.is_right),
                is_over: done.is_none_or(|done| done.is_over),
                hidden,
                score: given.score(),
            }
        }
        Course::Viva(examined) => LessonLine {
            title: format!("viva, {} level", examined.viva.level.name()),
            step: examined.number + 1,
            steps: None,
            question: Some("choice"),
            right: Some(examined.question.right),
            told: None,
            is_right: examined.chosen.map(|chosen| chosen == examined.question.right),
            is_over: examined.chosen.is_some(),
            hidden,
            score: (examined.score.asked as usize, examined.score.right as usize),
        },
    })
}
