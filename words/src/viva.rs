//! A viva in words: what the set-up is, what is asked, the answers, and what is said to a slip.

use sim_core::cusp::Tooth;
use sim_core::frame::Side;
use sim_core::setting::{Change, SettingName};
use sim_core::units::{Angle, Length};
use sim_core::viva::{Asked, Slip, Statement, VivaAnswer, VivaQuestion, VivaValue};

use crate::lesson::value;
use crate::name;
use crate::number::{as_set, decimals};

/// The settings of a question, one a line.
#[must_use]
pub fn set_up(question: &VivaQuestion) -> Vec<String> {
    question.changes.iter().map(changed).collect()
}

/// A setting as it is changed: `left horizontal condylar inclination: 34°`.
#[must_use]
pub fn changed(change: &Change) -> String {
    let written = change.to_string();
    let Some((key, to)) = written.split_once('=') else { return written };
    let Ok(setting) = key.parse::<SettingName>() else { return format!("{key}: {to}") };
    let to = to.parse().map_or_else(|_| to.to_owned(), as_set);
    format!("{}: {to}{}", labelled(&setting), setting.facts().unit.sign())
}

/// A setting with its side.
fn labelled(setting: &SettingName) -> String {
    let label = setting.facts().label;
    setting.side().map_or_else(|| label.to_owned(), |side| format!("{} {label}", name::side(side)))
}

/// What is asked, in a sentence.
#[must_use]
pub fn ask(question: &VivaQuestion) -> String {
    match question.asked {
        Asked::Drop { side, advance } => format!(
            "The jaw goes straight forward until the condyles have advanced by {}. How far does the {} condyle go down?",
            length(advance),
            name::side(side)
        ),
        Asked::MedialShift { orbiting, advance } => format!(
            "The jaw goes to the {}, and the {} condyle orbits. It has advanced by {}. How far has it gone inward?",
            name::side(orbiting.opposite()),
            name::side(orbiting),
            length(advance)
        ),
        Asked::Rule { side } => format!(
            "No lateral record exists. Which lateral angle does the rule L = H/8 + 12 give for the {} guide?",
            name::side(side)
        ),
        Asked::PartsMost { side, advance } => format!(
            "The jaw goes straight forward, the condyles advance by {}. Which of these teeth on the {} parts most from the plane?",
            length(advance),
            name::side(side)
        ),
        Asked::Separation { tooth, working, advance } => format!(
            "{} By how much does tooth {} separate from the occlusal plane?",
            way(working, advance),
            name::tooth(tooth)
        ),
        Asked::Clearance { tooth, working, advance } => format!(
            "{} How much clearance does the cusp of tooth {} have above the opposing incline? Below zero it interferes.",
            way(working, advance),
            name::tooth(tooth)
        ),
        Asked::ActsMost { tooth, working, advance, by } => format!(
            "The jaw goes to the {}, the orbiting condyle advances by {}. One angle may be raised by {}. Which one parts tooth {} most?",
            name::side(working),
            length(advance),
            angle(by),
            name::tooth(tooth)
        ),
        Asked::Split { trial, joint } => format!(
            "A protrusive record of six millimetres was taken from joints of {}. The guides hold their spheres as tracks do and stand at {}. What does the split do?",
            angle(joint),
            angle(trial)
        ),
        Asked::OpenedPath { side, pin, opening } => format!(
            "The instrument is non-arcon, the pin is let down by {}, which opens it by {}. To the upper teeth, what angle has the path of the {} condyle as the jaw starts forward?",
            length(pin),
            measured(opening),
            name::side(side)
        ),
        Asked::TracingAdvance { drawn } => format!(
            "The jaw goes straight forward until the front has drawn {} along the plate. How far have the condyles advanced?",
            length(drawn)
        ),
        Asked::AxisError { tooth, off, opening } => format!(
            "The axis is {} off, and the instrument, open by {}, is closed about it. By how much does tooth {} miss its place?",
            length(off),
            measured(opening),
            name::tooth(tooth)
        ),
    }
}

fn way(working: Option<Side>, advance: Length) -> String {
    match working {
        None => format!("The jaw goes straight forward, the condyles advance by {}.", length(advance)),
        Some(side) => format!(
            "The jaw goes to the {}, the orbiting condyle advances by {}.",
            name::side(side),
            length(advance)
        ),
    }
}

fn length(length: Length) -> String {
    format!("{} mm", as_set(length.mm()))
}

fn angle(angle: Angle) -> String {
    format!("{}°", as_set(angle.degrees()))
}

fn measured(angle: Angle) -> String {
    format!("{}°", decimals(angle.degrees(), 1))
}

/// What an answer says.
#[must_use]
pub fn answer(answer: &VivaAnswer) -> String {
    match &answer.value {
        VivaValue::Number(number) => value(*number),
        VivaValue::Tooth(tooth) => tooth_name(*tooth),
        VivaValue::Change(change) => {
            let written = change.to_string();
            let key = written.split_once('=').map_or(written.as_str(), |(key, _)| key);
            key.parse().map_or_else(|_| key.to_owned(), |setting| labelled(&setting))
        }
        VivaValue::Statement(statement) => match statement {
            Statement::OpenBehind => "it stays open behind",
            Statement::OpenInFront => "it stays open in front",
            Statement::Closes => "it closes",
        }
        .to_owned(),
    }
}

fn tooth_name(tooth: Tooth) -> String {
    let kind = match tooth.position() {
        4 => "the first premolar",
        5 => "the second premolar",
        6 => "the first molar",
        7 => "the second molar",
        _ => "tooth",
    };
    format!("{kind}, {}", name::tooth(tooth))
}

/// What is said to who makes a slip; of what is right nothing needs to be said.
#[must_use]
pub const fn slip(slip: Slip) -> &'static str {
    match slip {
        Slip::Sine => {
            "That takes the sine. The advance is measured forward, not along the path: take the tangent."
        }
        Slip::Inverted => "That divides by the tangent. A steeper path goes down more for the same advance.",
        Slip::OtherSide => "That is the other side's.",
        Slip::NoImmediate => "That leaves the immediate translation out; it comes before the wall's part.",
        Slip::DropInstead => "That is how far a condyle goes down.",
        Slip::AdvanceInstead => "That is the advance itself.",
        Slip::EighthOnly => "That is H/8 alone; twelve degrees are to be added.",
        Slip::EightAndTwelve => "Eight and twelve are exchanged.",
        Slip::AddedFirst => "Divide first, then add twelve degrees.",
        Slip::SeparationInstead => {
            "That is the separation: how far the tooth stands off, whatever it has to pass."
        }
        Slip::RiseAdded => "The rise of the incline is taken away from the separation, not added.",
        Slip::LevelPlate => "That is with plate and wings level; the incisal guidance parts the front too.",
        Slip::ScaleInstead => {
            "That is what the scale says. The guide belongs to the lower member, and that has turned."
        }
        Slip::WrongWay => "The amount is right, the sign is not.",
        Slip::Twice => "That counts it twice.",
        Slip::PlateInstead => {
            "That is the way drawn on the plate by the front of the jaw. The condyle's is another."
        }
        Slip::StraightLine => "That is the straight line of the front of the jaw.",
        Slip::AxisItself => "That is the error of the axis. Only the turn brings a part of it to the teeth.",
        Slip::ActsLess => {
            "It acts on this tooth, but another acts more. Which condyle moves, and which is nearer?"
        }
        Slip::NotThisTooth => {
            "Compare the condylar inclination with the incisal plate, both to the occlusal plane: the steeper rules its own end."
        }
        Slip::SteepAndShallow => "Too steep holds it open behind, too shallow in front.",
        Slip::WouldShow => {
            "A wrong angle either way keeps it open, where a track holds the sphere from both sides."
        }
    }
}

#[cfg(test)]
mod tests {
    use sim_core::viva::{Viva, VivaLevel};

    use super::*;

    #[test]
    fn every_question_is_a_sentence_and_its_answers_read_unlike() {
        for level in VivaLevel::ALL {
            for number in 0..60 {
                let question = Viva { seed: 5, level }.question(number);
                assert!(ask(&question).ends_with(['?', '.']), "{}", ask(&question));
                let answers: Vec<String> = question.answers.iter().map(answer).collect();
                for (place, one) in answers.iter().enumerate() {
                    assert!(!one.is_empty() && !answers[..place].contains(one), "{answers:?}");
                    assert!(!one.contains('-') && !one.contains('_'), "{one}");
                }
                assert!(set_up(&question).iter().all(|line| !line.contains('_')), "{:?}", set_up(&question));
            }
        }
    }
}
