//! Looking into what a step asks: the right answer is computed here.

use super::fault::{Wrong, written};
use super::file::{ChoiceFields, NumberFields, SetFields};
use super::look_at_text::Faults;
use super::phrase::Phrase;
use super::prose::Said;
use super::question::{Choice, ChoiceAnswer, Number, Set};
use super::situation::{Situation, changed};
use super::value::{Value, unit_words};
use crate::setting::SettingName;

impl Faults<'_> {
    pub(super) fn choice(&mut self, fields: &ChoiceFields, situation: &Situation<'_>) -> Option<Choice> {
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
        let right: Vec<usize> = truths
            .iter()
            .enumerate()
            .filter(|(_, truth)| **truth == Some(true))
            .map(|(place, _)| place)
            .collect();
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

    pub(super) fn number(&mut self, fields: &NumberFields, situation: &Situation<'_>) -> Option<Number> {
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

    pub(super) fn set(&mut self, fields: &SetFields, situation: &Situation<'_>) -> Option<Set> {
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
