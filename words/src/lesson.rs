//! What a lesson says, with its numbers in place.

use sim_core::lesson::{Cited, JudgedSet, Lesson, Question, Said, Set, Value};
use sim_core::setting::SettingName;
use sim_core::units::Unit;

use crate::name;
use crate::number::{as_set, decimals};

/// A number as a lesson shows it: lengths to a hundredth, angles to a tenth, settings as they were set.
#[must_use]
pub fn value(value: Value) -> String {
    let sign = value.unit.map_or("", Unit::sign);
    match (value.is_set, value.unit) {
        (true, _) => as_set(value.number) + sign,
        (false, Some(Unit::Millimetre)) => decimals(value.number, 2) + sign,
        (false, Some(Unit::Degree)) => decimals(value.number, 1) + sign,
        (false, None) => decimals(value.number, 0),
    }
}

/// A text with its numbers.
#[must_use]
pub fn said(pieces: &[Said]) -> String {
    let piece = |piece: &Said| match piece {
        Said::Words(words) => words.clone(),
        Said::Value(number) => value(*number),
    };
    pieces.iter().map(piece).collect::<String>().trim().to_owned()
}

/// Where something comes from.
#[must_use]
pub fn source(cited: &Cited) -> String {
    match cited {
        Cited::Published(source) => source.clone(),
        Cited::CommonPractice(what) => format!("common practice, no source: {what}"),
        Cited::Geometry(what) => format!("geometry: {what}"),
    }
}

/// What is said to a set-up that a person made.
#[must_use]
pub fn judged_set(judged: &JudgedSet, set: &Set) -> String {
    match judged {
        JudgedSet::Judged(judged) => said(&judged.said),
        JudgedSet::Elsewhere => {
            let turned: Vec<String> = set.turn.iter().map(setting).collect();
            format!(
                "Something else was changed. Turn only the {}; start the step again to have the rest back.",
                turned.join(" and the ")
            )
        }
        JudgedSet::Unmeasured(error) => format!("Nothing can be measured on this set-up: {error}"),
    }
}

/// A setting by its name, with its side.
fn setting(of: &SettingName) -> String {
    let label = of.facts().label;
    of.side().map_or_else(|| label.to_owned(), |side| format!("{} {label}", name::side(side)))
}

/// The right answer to a question, in short.
#[must_use]
pub fn right_answer(question: &Question) -> String {
    match question {
        Question::Choice(choice) => {
            choice.answers.get(choice.right).map(|answer| said(&answer.says)).unwrap_or_default()
        }
        Question::Number(number) => format!("{} (± {})", value(number.right), value(number.within)),
        Question::Set(set) => {
            let model: Vec<String> = set.model.iter().map(ToString::to_string).collect();
            format!("for example {}", model.join(", "))
        }
    }
}

/// How many steps and questions a lesson has.
#[must_use]
pub fn size(lesson: &Lesson) -> String {
    let questions = lesson.steps.iter().filter(|step| step.question.is_some()).count();
    let many = |count: usize, one: &str| format!("{count} {one}{}", if count == 1 { "" } else { "s" });
    format!("{}, {}", many(lesson.steps.len(), "step"), many(questions, "question"))
}

#[cfg(test)]
mod tests {
    use sim_core::units::{Angle, Length};

    use super::*;

    #[test]
    fn numbers_have_the_digits_that_a_class_can_use_and_a_real_minus() {
        assert_eq!(value(Value::length(Length::from_mm(-0.126))), "\u{2212}0.13 mm");
        assert_eq!(value(Value::angle(Angle::from_degrees(12.34))), "12.3\u{b0}");
        assert_eq!(value(Value::count(3)), "3");
        let set = Value { number: 22.5, unit: Some(Unit::Degree), is_set: true };
        assert_eq!(value(set), "22.5\u{b0}");
    }

    #[test]
    fn a_text_is_joined_with_its_numbers() {
        let pieces = [
            Said::Words("It parts by ".to_owned()),
            Said::Value(Value::length(Length::from_mm(1.0))),
            Said::Words(".".to_owned()),
        ];
        assert_eq!(said(&pieces), "It parts by 1.00 mm.");
    }
}
