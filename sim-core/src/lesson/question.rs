//! Questions, and what is said to an answer.

use super::cannot::CannotMeasure;
use super::condition::Condition;
use super::prose::{Prose, Said};
use super::situation::Situation;
use super::value::Value;
use crate::scene::Scene;
use crate::setting::{Change, SettingName};

/// A question, with its right answer computed.
#[derive(Clone, Debug)]
pub enum Question {
    /// One of several answers.
    Choice(Choice),
    /// A number.
    Number(Number),
    /// A set-up to be made.
    Set(Box<Set>),
}

/// One of several answers is right.
#[derive(Clone, Debug, PartialEq)]
pub struct Choice {
    /// What is asked.
    pub ask: Vec<Said>,
    /// Whether the excursion may be seen before.
    pub see_first: bool,
    /// Each answer, and what is said to who gives it.
    pub answers: Vec<ChoiceAnswer>,
    /// The place of the right one.
    pub right: usize,
    /// What is said once the question is over.
    pub after: Option<Vec<Said>>,
}

/// An answer to choose.
#[derive(Clone, Debug, PartialEq)]
pub struct ChoiceAnswer {
    /// What it says.
    pub says: Vec<Said>,
    /// What is said to it.
    pub reply: Vec<Said>,
}

/// A number is asked.
#[derive(Clone, Debug, PartialEq)]
pub struct Number {
    /// What is asked.
    pub ask: Vec<Said>,
    /// Whether the excursion may be seen before.
    pub see_first: bool,
    /// The right number.
    pub right: Value,
    /// How far off an answer may be, in the same unit.
    pub within: Value,
    /// What is said to a right answer.
    pub reply: Vec<Said>,
    /// To one too high.
    pub too_high: Vec<Said>,
    /// To one too low.
    pub too_low: Vec<Said>,
    /// What typical mistakes give, and what is said to them.
    pub mistakes: Vec<(Value, Vec<Said>)>,
    /// What is said once the question is over.
    pub after: Option<Vec<Said>>,
}

/// A set-up is to be made.
#[derive(Clone, Debug)]
pub struct Set {
    /// What is asked.
    pub ask: Vec<Said>,
    pub(super) until: Condition,
    /// The only settings that may be changed; any when empty.
    pub turn: Vec<SettingName>,
    /// Changes that solve it.
    pub model: Vec<Change>,
    pub(super) right: Prose,
    pub(super) hints: Vec<(Condition, Prose)>,
    pub(super) otherwise: Prose,
    /// What is said once the question is over.
    pub after: Option<Vec<Said>>,
}

/// What is said to an answer.
#[derive(Clone, Debug, PartialEq)]
pub struct Judged {
    /// Whether it is right.
    pub is_right: bool,
    /// What is said.
    pub said: Vec<Said>,
}

/// What is said to a set-up.
#[derive(Clone, Debug, PartialEq)]
pub enum JudgedSet {
    /// As the lesson has it.
    Judged(Judged),
    /// A setting was changed that is not to be.
    Elsewhere,
    /// Nothing can be measured on it.
    Unmeasured(CannotMeasure),
}

impl Question {
    /// What is asked.
    #[must_use]
    pub fn ask(&self) -> &[Said] {
        match self {
            Self::Choice(choice) => &choice.ask,
            Self::Number(number) => &number.ask,
            Self::Set(set) => &set.ask,
        }
    }

    /// What is said once the question is over.
    #[must_use]
    pub fn after(&self) -> Option<&[Said]> {
        match self {
            Self::Choice(choice) => choice.after.as_deref(),
            Self::Number(number) => number.after.as_deref(),
            Self::Set(set) => set.after.as_deref(),
        }
    }

    /// Whether the excursion stays hidden until the question is over: predict first, then see.
    #[must_use]
    pub const fn hides_the_motion(&self) -> bool {
        match self {
            Self::Choice(choice) => !choice.see_first,
            Self::Number(number) => !number.see_first,
            Self::Set(_) => false,
        }
    }
}

impl Choice {
    /// What is said to the answer of that place; none where there is no such answer.
    #[must_use]
    pub fn judge(&self, answer: usize) -> Option<Judged> {
        let given = self.answers.get(answer)?;
        Some(Judged { is_right: answer == self.right, said: given.reply.clone() })
    }
}

impl Number {
    /// What is said to a number, in the unit of [`Self::right`].
    #[must_use]
    pub fn judge(&self, given: f64) -> Judged {
        let off = |value: &Value| (given - value.number).abs();
        let is_right = off(&self.right) <= self.within.number;
        let mistake = self.mistakes.iter().filter(|(value, _)| off(value) <= self.within.number);
        let nearest = mistake.min_by(|(one, _), (other, _)| off(one).total_cmp(&off(other)));
        let said = match nearest {
            _ if is_right => &self.reply,
            Some((_, reply)) => reply,
            None if given > self.right.number => &self.too_high,
            None => &self.too_low,
        };
        Judged { is_right, said: said.clone() }
    }
}

impl Set {
    /// What is said to a set-up. `given` is the step's own situation, `made` the scene as a person left it.
    #[must_use]
    pub fn judge(&self, given: &Situation<'_>, made: &Scene) -> JudgedSet {
        if !self.turn.is_empty() && !self.turned_only(given.scene, made) {
            return JudgedSet::Elsewhere;
        }
        let situation = Situation { scene: made, ..*given };
        let judged = || {
            if self.until.holds(&situation)? {
                return Ok((true, &self.right));
            }
            for (when, reply) in &self.hints {
                if when.holds(&situation)? {
                    return Ok((false, reply));
                }
            }
            Ok::<_, CannotMeasure>((false, &self.otherwise))
        };
        let said = judged().and_then(|(is_right, prose)| {
            let said = prose.said(&situation).map_err(|(_, error)| error)?;
            Ok(Judged { is_right, said })
        });
        said.map_or_else(JudgedSet::Unmeasured, JudgedSet::Judged)
    }

    /// Whether nothing but the settings to be turned differs.
    pub(super) fn turned_only(&self, given: &Scene, made: &Scene) -> bool {
        // Put back what may be turned: the rest has to be the same.
        let mut back = made.clone();
        for name in &self.turn {
            let Ok(place) = name.find_in(given) else { continue };
            let numbers = place.numbers(given);
            let places = place.each();
            for (one, number) in places.iter().zip(numbers) {
                if let Some(number) = number
                    && one.set(&mut back, number).is_err()
                {
                    return false;
                }
            }
        }
        back.instrument == given.instrument
            && back.occlusal_plane == given.occlusal_plane
            && back.cusps == given.cusps
            && back.invented_casts == given.invented_casts
    }
}
