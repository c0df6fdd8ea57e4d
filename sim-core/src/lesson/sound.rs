//! A lesson that has been looked into: sound, with everything computed that it leaves to the solver.

use std::sync::Arc;

use super::condition::{Condition, Truth};
use super::cusp_name::CuspName;
use super::fault::{Fault, Wrong, written};
use super::file::{
    ChoiceFields, Cited, LessonFile, NumberFields, QuestionFields, SetFields, StepFields, TargetFields, View,
};
use super::phrase::{At, Phrase};
use super::prose::{Prose, Said, unbroken};
use super::question::{Choice, ChoiceAnswer, Number, Question, Set};
use super::situation::{Situation, changed};
use super::value::{Value, unit_words};
use crate::cast::Casts;
use crate::excursion::{Drive, Excursion};
use crate::frame::Side;
use crate::scene::Scene;
use crate::setting::{Change, SettingName};
use crate::units::Length;

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

/// A step of a lesson.
#[derive(Clone, Debug)]
pub struct Step {
    /// What is read.
    pub text: Vec<Said>,
    /// The set-up.
    pub scene: Scene,
    /// The excursion that is shown; none where the jaw stays at rest.
    pub excursion: Option<Excursion>,
    /// How far along; to the end where nothing is said.
    pub at: Option<At>,
    /// From where one looks.
    pub view: Option<View>,
    /// What is pointed at.
    pub points: Vec<Target>,
    /// What is asked.
    pub question: Option<Question>,
}

/// Something pointed at.
#[derive(Clone, Debug, PartialEq)]
pub enum Target {
    /// A cusp, by its place in the step's scene.
    Cusp(usize),
    /// A condyle.
    Condyle(Side),
    /// The incisal point.
    IncisalPoint,
    /// A setting.
    Setting(SettingName),
    /// The plot.
    Plot,
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
            let mut looking =
                Looking { step: number, start: &start, casts: casts.as_ref(), faults: &mut faults };
            let from = if fields.afresh { start.clone() } else { before.clone() };
            let step = looking.step(fields, from);
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

/// One step being looked into.
struct Looking<'f> {
    step: usize,
    start: &'f Scene,
    casts: Option<&'f Arc<Casts>>,
    faults: &'f mut Vec<Fault>,
}

impl Looking<'_> {
    fn find(&mut self, field: &'static str, quoted: Option<&str>, part: &str, what: Wrong) {
        let quoted = quoted.map(str::to_owned);
        self.faults.push(Fault { step: Some(self.step), field, quoted, part: part.to_owned(), what });
    }

    fn step(&mut self, fields: &StepFields, mut scene: Scene) -> Step {
        let changes = self.changes("with", &fields.with);
        match changed(&scene, &changes) {
            Ok(made) => scene = made,
            Err(error) => self.find("with", None, "", Wrong::Changes(error)),
        }
        let at = self.at(fields);
        let scene_of_step = scene.clone();
        let (start, casts) = (self.start, self.casts);
        let situation =
            Situation { scene: &scene_of_step, start, casts, excursion: fields.excursion, at };
        if let (Some(_), Ok(phrase)) = (fields.excursion, "turn".parse::<Phrase>())
            && let Err(error) = situation.measure(&phrase)
        {
            self.find("excursion", None, "", Wrong::NoPose(error));
        }
        let points = fields.point_at.iter().filter_map(|target| self.target(target, &situation)).collect();
        let text = self.said("text", &fields.text, &situation);
        let question = match &fields.question {
            None => None,
            Some(QuestionFields::Choice(choice)) => self.choice(choice, &situation).map(Question::Choice),
            Some(QuestionFields::Number(number)) => self.number(number, &situation).map(Question::Number),
            Some(QuestionFields::Set(set)) => {
                self.set(set, &situation).map(|set| Question::Set(Box::new(set)))
            }
        };
        Step { text, scene, excursion: fields.excursion, at, view: fields.view, points, question }
    }

    fn at(&mut self, fields: &StepFields) -> Option<At> {
        let given = fields.at_mm?;
        let drive = match fields.excursion.map(|excursion| excursion.drive()) {
            None => Err("a step without an excursion stands at rest; give an excursion, or leave at_mm out".to_owned()),
            Some(Drive::Opening(_)) => Err("an opening goes by its angle; leave at_mm out".to_owned()),
            Some(end) if !(given >= 0.0 && given <= end.number()) => {
                Err(format!("allowed are 0 to {} mm, the end of the excursion", end.number()))
            }
            Some(_) if given == 0.0 => return Some(At::Rest),
            Some(Drive::Advance(_)) => Ok(Drive::Advance(Length::from_mm(given))),
            Some(Drive::IncisalDisplacement(_)) => Ok(Drive::IncisalDisplacement(Length::from_mm(given))),
            Some(Drive::Tracing(_)) => Ok(Drive::Tracing(Length::from_mm(given))),
        };
        match drive {
            Ok(drive) => Some(At::Driven(drive)),
            Err(allowed) => {
                self.find("at_mm", None, "", Wrong::At { given, allowed });
                None
            }
        }
    }

    fn changes(&mut self, field: &'static str, written: &[String]) -> Vec<Change> {
        let mut changes = Vec::new();
        for one in written {
            match one.parse() {
                Ok(change) => changes.push(change),
                Err(error) => self.find(field, Some(one), "", Wrong::Change(error)),
            }
        }
        changes
    }

    fn target(&mut self, fields: &TargetFields, situation: &Situation<'_>) -> Option<Target> {
        match fields {
            TargetFields::Cusp(name) => match name.parse::<CuspName>() {
                Ok(cusp) => match cusp.find(&situation.scene.cusps) {
                    Ok(place) => return Some(Target::Cusp(place)),
                    Err(error) => {
                        let what = Wrong::Unmeasured { phrase: name.clone(), error };
                        self.find("point_at", Some(name), "", what);
                    }
                },
                Err(error) => self.find("point_at", Some(name), "", Wrong::Phrase(error)),
            },
            TargetFields::Setting(name) => match name.parse::<SettingName>() {
                Ok(setting) => return Some(Target::Setting(setting)),
                Err(error) => self.find("point_at", Some(name), "", Wrong::Name(error)),
            },
            TargetFields::RightCondyle => return Some(Target::Condyle(Side::Right)),
            TargetFields::LeftCondyle => return Some(Target::Condyle(Side::Left)),
            TargetFields::IncisalPoint => return Some(Target::IncisalPoint),
            TargetFields::Plot => return Some(Target::Plot),
        }
        None
    }

    /// A text, not yet with its numbers.
    fn prose(&mut self, field: &'static str, text: &str) -> Option<Prose> {
        match Prose::parse(text) {
            Ok(prose) => Some(prose),
            Err(errors) => {
                for error in errors {
                    let part = error.part().to_owned();
                    self.find(field, Some(text), &part, Wrong::Prose(error));
                }
                None
            }
        }
    }

    /// A text with its numbers; empty where it is at fault.
    fn said(&mut self, field: &'static str, text: &str, situation: &Situation<'_>) -> Vec<Said> {
        let Some(prose) = self.prose(field, text) else { return Vec::new() };
        self.filled(field, text, &prose, situation)
    }

    fn filled(
        &mut self,
        field: &'static str,
        text: &str,
        prose: &Prose,
        situation: &Situation<'_>,
    ) -> Vec<Said> {
        // Each place by itself, so that all that cannot be measured is told.
        for phrase in prose.places() {
            if let Err(error) = situation.measure(phrase) {
                let phrase = phrase.to_string();
                let what = Wrong::Unmeasured { phrase: phrase.clone(), error };
                self.find(field, Some(text), &phrase, what);
            }
        }
        prose.said(situation).unwrap_or_default()
    }

    fn condition(&mut self, field: &'static str, text: &str) -> Option<Condition> {
        text.parse().map_err(|error| self.find(field, Some(text), "", Wrong::Condition(error))).ok()
    }

    fn phrase(&mut self, field: &'static str, text: &str) -> Option<Phrase> {
        text.parse().map_err(|error| self.find(field, Some(text), "", Wrong::Phrase(error))).ok()
    }

    fn measured(
        &mut self,
        field: &'static str,
        text: &str,
        phrase: &Phrase,
        situation: &Situation<'_>,
    ) -> Option<Value> {
        let unmeasured = |error| Wrong::Unmeasured { phrase: phrase.to_string(), error };
        situation.measure(phrase).map_err(|error| self.find(field, Some(text), "", unmeasured(error))).ok()
    }

    /// Whether a statement holds, and clearly.
    fn truth(&mut self, field: &'static str, text: &str, situation: &Situation<'_>) -> Option<bool> {
        let condition = self.condition(field, text)?;
        match condition.truth(situation) {
            Ok(Truth::Holds) => Some(true),
            Ok(Truth::Fails) => Some(false),
            Ok(Truth::TooClose { by }) => {
                let what = Wrong::TooClose { statement: text.to_owned(), by: written(by) };
                self.find(field, Some(text), "", what);
                None
            }
            Err(error) => {
                let what = Wrong::Unmeasured { phrase: condition.to_string(), error };
                self.find(field, Some(text), "", what);
                None
            }
        }
    }

    fn choice(&mut self, fields: &ChoiceFields, situation: &Situation<'_>) -> Option<Choice> {
        let ask = self.said("ask", &fields.ask, situation);
        let given = fields.answers.len();
        if given < 2 {
            self.find("answers", None, "", Wrong::FewAnswers { given });
        }
        let mut answers = Vec::new();
        let mut truths = Vec::new();
        for answer in &fields.answers {
            answers.push(ChoiceAnswer {
                says: self.said("says", &answer.says, situation),
                reply: self.said("reply", &answer.reply, situation),
            });
            truths.push(self.truth("holds_if", &answer.holds_if, situation));
        }
        let same = |(place, one): (usize, &ChoiceAnswer)| {
            answers.iter().take(place).any(|other| other.says == one.says && !one.says.is_empty())
        };
        if answers.iter().enumerate().any(same) {
            self.find("answers", None, "", Wrong::SameAnswers);
        }
        let right: Vec<usize> =
            truths.iter().enumerate().filter(|(_, truth)| **truth == Some(true)).map(|(place, _)| place).collect();
        let after = fields.after.as_ref().map(|after| self.said("after", after, situation));
        // With a statement that could not be told nobody knows how many are right.
        if truths.iter().all(Option::is_some) {
            match right.as_slice() {
                [_] => {}
                [] => self.find("answers", None, "", Wrong::NoneRight),
                several => {
                    let says = |place: &usize| {
                        fields.answers.get(*place).map(|answer| format!("\u{201c}{}\u{201d}", answer.says))
                    };
                    let right = several.iter().filter_map(says).collect();
                    self.find("answers", None, "", Wrong::ManyRight { right });
                }
            }
        }
        let right = right.first().copied()?;
        Some(Choice { ask, see_first: fields.see_first, answers, right, after })
    }

    fn number(&mut self, fields: &NumberFields, situation: &Situation<'_>) -> Option<Number> {
        let ask = self.said("ask", &fields.ask, situation);
        let [reply, too_high, too_low] =
            [("right", &fields.right), ("too_high", &fields.too_high), ("too_low", &fields.too_low)]
                .map(|(field, text)| self.said(field, text, situation));
        let after = fields.after.as_ref().map(|after| self.said("after", after, situation));
        let replies: Vec<Vec<Said>> =
            fields.mistakes.iter().map(|mistake| self.said("reply", &mistake.reply, situation)).collect();
        let measure = self.phrase("measure", &fields.measure)?;
        let right = self.measured("measure", &fields.measure, &measure, situation)?;
        let within = fields.within.parse::<Phrase>().ok().and_then(|phrase| phrase.written_number());
        let within = within.filter(|within| within.unit == right.unit && within.number > 0.0);
        let Some(within) = within else {
            let what = Wrong::Tolerance { given: fields.within.clone() };
            self.find("within", Some(&fields.within), "", what);
            return None;
        };
        let mut mistakes: Vec<(Value, Vec<Said>)> = Vec::new();
        for (mistake, reply) in fields.mistakes.iter().zip(replies) {
            let Some(phrase) = self.phrase("gives", &mistake.gives) else { continue };
            if phrase.unit() != right.unit {
                let (one, other) = (unit_words(phrase.unit()), unit_words(right.unit));
                let what = Wrong::MistakeUnit { gives: mistake.gives.clone(), one, other };
                self.find("gives", Some(&mistake.gives), "", what);
                continue;
            }
            let Some(value) = self.measured("gives", &mistake.gives, &phrase, situation) else { continue };
            let near = |other: &Value| (other.number - value.number).abs() <= within.number;
            let same = if near(&right) {
                Some("the right answer")
            } else if mistakes.iter().any(|(other, _)| near(other)) {
                Some("another mistake")
            } else {
                None
            };
            if let Some(same) = same {
                let what = Wrong::MistakeIsRight { value: written(value), same };
                self.find("gives", Some(&mistake.gives), "", what);
            }
            mistakes.push((value, reply));
        }
        let see_first = fields.see_first;
        Some(Number { ask, see_first, right, within, reply, too_high, too_low, mistakes, after })
    }

    fn set(&mut self, fields: &SetFields, situation: &Situation<'_>) -> Option<Set> {
        let ask = self.said("ask", &fields.ask, situation);
        let until = self.condition("until", &fields.until);
        let mut turn: Vec<SettingName> = Vec::new();
        for name in &fields.turn {
            match name.parse() {
                Ok(setting) => turn.push(setting),
                Err(error) => self.find("turn", Some(name), "", Wrong::Name(error)),
            }
        }
        let model = self.changes("model", &fields.model);
        if fields.model.is_empty() {
            self.find("model", None, "", Wrong::NoModel);
        }
        let otherwise = self.prose("otherwise", &fields.otherwise);
        if let Some(otherwise) = &otherwise {
            self.filled("otherwise", &fields.otherwise, otherwise, situation);
        }
        let mut hints = Vec::new();
        for hint in &fields.hints {
            let (when, reply) = (self.condition("when", &hint.when), self.prose("reply", &hint.reply));
            if let Some(reply) = &reply {
                self.filled("reply", &hint.reply, reply, situation);
            }
            if let Some(when) = &when
                && let Err(error) = when.truth(situation)
            {
                let what = Wrong::Unmeasured { phrase: hint.when.clone(), error };
                self.find("when", Some(&hint.when), "", what);
            }
            hints.extend(when.zip(reply));
        }
        let right = self.prose("right", &fields.right);
        let solved = match changed(situation.scene, &model) {
            Ok(solved) => solved,
            Err(error) => {
                self.find("model", None, "", Wrong::Changes(error));
                return None;
            }
        };
        let solved = Situation { scene: &solved, ..*situation };
        // What is said once it is over is said of the solution.
        if let Some(right) = &right {
            self.filled("right", &fields.right, right, &solved);
        }
        let after = fields.after.as_ref().map(|after| self.said("after", after, &solved));
        let until = until?;
        for (is_solved, at) in [(false, situation), (true, &solved)] {
            match until.holds(at) {
                Ok(holds) if holds == is_solved => {}
                Ok(_) if is_solved => {
                    self.find("model", None, "", Wrong::ModelFails { until: until.to_string() });
                }
                Ok(_) => {
                    let what = Wrong::Done { until: until.to_string() };
                    self.find("until", Some(&fields.until), "", what);
                }
                Err(error) => {
                    let what = Wrong::Unmeasured { phrase: until.to_string(), error };
                    self.find("until", Some(&fields.until), "", what);
                }
            }
        }
        let set = Set { ask, until, turn, model, right: right?, hints, otherwise: otherwise?, after };
        if !set.turn.is_empty() && !set.turned_only(situation.scene, solved.scene) {
            let setting = fields.model.join(", ");
            self.find("model", None, "", Wrong::ModelTurns { setting });
        }
        Some(set)
    }
}
