//! A lesson being given.

use sim_core::lesson::{Judged, JudgedSet, Lesson, Question, Step, Target};
use sim_core::scene::Scene;
use words::lesson::{judged_set, said};

use super::shelf::OpenedLesson;

/// A lesson being given.
#[derive(Clone, Debug)]
pub struct Given {
    /// The lesson.
    pub opened: OpenedLesson,
    /// The step shown, from 0; as many as there are steps once the lesson is over.
    pub at: usize,
    /// What was done at each step.
    pub steps: Vec<GivenStep>,
}

/// What was done at a step.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct GivenStep {
    /// Answers chosen, the last one last.
    pub chosen: Vec<usize>,
    /// What is being typed.
    pub typed: String,
    /// Answers given.
    pub tries: u32,
    /// What is said to the last answer.
    pub told: Option<Told>,
    /// The question is over: answered right, or given up.
    pub is_over: bool,
    /// It was answered right at once.
    pub right_at_once: bool,
}

/// What is said to an answer.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Told {
    /// Whether it is right; none where it was no answer.
    pub is_right: Option<bool>,
    /// What is said.
    pub words: String,
}

impl Given {
    /// A lesson at its first step.
    #[must_use]
    pub fn new(opened: OpenedLesson) -> Self {
        let steps = vec![GivenStep::default(); opened.lesson.steps.len()];
        Self { opened, at: 0, steps }
    }

    /// The lesson.
    #[must_use]
    pub fn lesson(&self) -> &Lesson {
        &self.opened.lesson
    }

    /// The step shown; none once the lesson is over.
    #[must_use]
    pub fn step(&self) -> Option<&Step> {
        self.opened.lesson.steps.get(self.at)
    }

    /// What was done at the step shown.
    #[must_use]
    pub fn done(&self) -> Option<&GivenStep> {
        self.steps.get(self.at)
    }

    /// The question of the step shown.
    #[must_use]
    pub fn question(&self) -> Option<&Question> {
        self.step()?.question.as_ref()
    }

    /// Whether the excursion stays hidden until the question is over.
    #[must_use]
    pub fn hides_the_motion(&self) -> bool {
        let is_open = self.done().is_some_and(|done| !done.is_over);
        let has_motion = self.step().is_some_and(|step| step.excursion.is_some());
        is_open && has_motion && self.question().is_some_and(Question::hides_the_motion)
    }

    /// What is pointed at in the step shown.
    #[must_use]
    pub fn points(&self) -> &[Target] {
        self.step().map_or(&[], |step| &step.points)
    }

    /// How many questions the lesson has, and how many were answered right at once.
    #[must_use]
    pub fn score(&self) -> (usize, usize) {
        let asked = self.opened.lesson.steps.iter().filter(|step| step.question.is_some()).count();
        (asked, self.steps.iter().filter(|done| done.right_at_once).count())
    }

    fn take(&mut self, judged: &Judged) {
        let told = Told { is_right: Some(judged.is_right), words: said(&judged.said) };
        self.tell(told);
    }

    /// Says something to an answer; a right one ends the question.
    fn tell(&mut self, told: Told) {
        let Some(done) = self.steps.get_mut(self.at).filter(|done| !done.is_over) else { return };
        done.tries += 1;
        if told.is_right == Some(true) {
            done.is_over = true;
            done.right_at_once = done.tries == 1;
        }
        done.told = Some(told);
    }

    /// Gives the answer of that place.
    pub fn choose(&mut self, answer: usize) {
        let Some(Question::Choice(choice)) = self.question() else { return };
        let Some(judged) = choice.judge(answer) else { return };
        if let Some(done) = self.steps.get_mut(self.at).filter(|done| !done.is_over) {
            done.chosen.push(answer);
        }
        self.take(&judged);
    }

    /// Types.
    pub fn type_in(&mut self, text: String) {
        if let Some(done) = self.steps.get_mut(self.at).filter(|done| !done.is_over) {
            done.typed = text;
        }
    }

    /// Gives the number typed. What is no number is said and counts for nothing.
    pub fn answer(&mut self) {
        let Some(Question::Number(number)) = self.question() else { return };
        let Some(done) = self.done().filter(|done| !done.is_over) else { return };
        match read_number(&done.typed) {
            Some(given) => {
                let judged = number.judge(given);
                self.take(&judged);
                // The field is free for another try.
                if let Some(done) = self.steps.get_mut(self.at).filter(|done| !done.is_over) {
                    done.typed.clear();
                }
            }
            None => {
                let words = "That is no number. Type digits, with a decimal point or comma.".to_owned();
                if let Some(done) = self.steps.get_mut(self.at) {
                    done.told = Some(Told { is_right: None, words });
                }
            }
        }
    }

    /// Looks at the set-up that a person made.
    pub fn check(&mut self, made: &Scene) {
        let Some(step) = self.step() else { return };
        let Some(Question::Set(set)) = &step.question else { return };
        let judged = set.judge(&self.lesson().situation(step), made);
        let is_right = match &judged {
            JudgedSet::Judged(judged) => Some(judged.is_right),
            JudgedSet::Elsewhere | JudgedSet::Unmeasured(_) => None,
        };
        let told = Told { is_right, words: judged_set(&judged, set) };
        match is_right {
            Some(_) => self.tell(told),
            // A set-up that cannot be judged is no answer.
            None => {
                if let Some(done) = self.steps.get_mut(self.at).filter(|done| !done.is_over) {
                    done.told = Some(told);
                }
            }
        }
    }

    /// Gives up; returns the set-up that solves the question, where one was to be made.
    pub fn show(&mut self) -> Option<Scene> {
        let step = self.step()?;
        let question = step.question.as_ref()?;
        let words = format!("It is: {}.", words::lesson::right_answer(question));
        let mut solved = None;
        if let Question::Set(set) = question {
            let mut scene = step.scene.clone();
            if set.model.iter().all(|change| change.make(&mut scene).is_ok()) {
                solved = Some(scene);
            }
        }
        let done = self.steps.get_mut(self.at).filter(|done| !done.is_over)?;
        done.is_over = true;
        done.told = Some(Told { is_right: None, words });
        solved
    }

    /// Forgets what was done at the step shown, if its question is still open.
    pub fn again(&mut self) {
        if let Some(done) = self.steps.get_mut(self.at) {
            done.told = None;
            done.typed.clear();
        }
    }
}

/// A number as a person types it: with a point or a comma, a hyphen or a minus, a unit behind it or none.
fn read_number(typed: &str) -> Option<f64> {
    let bare = typed.trim().trim_end_matches("mm").trim_end_matches(['°', '\u{ba}']).trim();
    let number: f64 = bare.replace(',', ".").replace('−', "-").parse().ok()?;
    number.is_finite().then_some(number)
}

#[cfg(test)]
mod tests {
    use super::read_number;

    #[test]
    fn a_number_is_read_as_people_type_it() {
        for (typed, number) in
            [("1.73", 1.73), (" 1,73 mm ", 1.73), ("−2", -2.0), ("-2", -2.0), ("30°", 30.0), (".5", 0.5)]
        {
            assert_eq!(read_number(typed), Some(number), "{typed}");
        }
        for typed in ["", "one", "1.2.3", "NaN", "inf", "1 2"] {
            assert_eq!(read_number(typed), None, "{typed}");
        }
    }
}
