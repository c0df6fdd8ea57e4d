//! Lessons as objects.

use serde_json::{Value, json};
use sim_core::lesson::{Lesson, Question};
use words::lesson::{right_answer, said, source};

use super::checked::{CheckReport, Checked, ListReport};

pub(super) fn checked(report: &CheckReport) -> Value {
    let lessons: Vec<Value> = report.lessons.iter().map(|lesson| one(lesson, report.answers)).collect();
    json!({ "lessons": lessons })
}

fn one(lesson: &Checked, answers: bool) -> Value {
    match &lesson.found {
        Ok(found) => {
            let mut object = json!({
                "file": lesson.name, "sound": true, "title": found.title, "steps": found.steps.len(), "faults": [],
            });
            if answers {
                let asked = found.steps.iter().enumerate();
                let asked =
                    asked.filter_map(|(number, step)| Some(question(number, step.question.as_ref()?)));
                object["questions"] = asked.collect();
            }
            object
        }
        Err(error) => {
            let placed = error.faults().into_iter();
            let mut faults: Vec<Value> = placed
                .map(|(line, column, what)| json!({"line": line, "column": column, "what": what}))
                .collect();
            if faults.is_empty() {
                faults.push(json!({"line": null, "column": null, "what": error.to_string()}));
            }
            json!({"file": lesson.name, "sound": false, "faults": faults})
        }
    }
}

fn question(number: usize, question: &Question) -> Value {
    let kind = match question {
        Question::Choice(_) => "choice",
        Question::Number(_) => "number",
        Question::Set(_) => "set",
    };
    let mut object = json!({
        "step": number + 1, "kind": kind, "ask": said(question.ask()), "right": right_answer(question),
    });
    if let Question::Number(asked) = question {
        object["value"] = json!(asked.right.number);
        object["within"] = json!(asked.within.number);
        object["unit"] = json!(asked.right.unit.map(sim_core::units::Unit::words));
    }
    object
}

pub(super) fn listed(report: &ListReport) -> Value {
    let one = |(name, lesson): &(&str, Lesson)| {
        json!({
            "name": name, "title": lesson.title, "about": lesson.about, "steps": lesson.steps.len(),
            "sources": lesson.sources.iter().map(source).collect::<Vec<_>>(),
        })
    };
    json!({ "lessons": report.lessons.iter().map(one).collect::<Vec<_>>() })
}
