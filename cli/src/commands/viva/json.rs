//! Questions as an object.

use serde_json::{Value, json};
use sim_core::viva::{VivaQuestion, VivaValue};
use words::viva::{answer, ask, set_up, slip};

use super::drawn::VivaReport;

pub(super) fn object(report: &VivaReport) -> Value {
    json!({
        "seed": report.viva.seed, "level": report.viva.level.name(),
        "questions": report.questions.iter().map(question).collect::<Vec<_>>(),
    })
}

fn question(question: &VivaQuestion) -> Value {
    let answers: Vec<Value> = question
        .answers
        .iter()
        .map(|given| {
            let mut object = json!({"says": answer(given), "right": given.slip.is_none()});
            if let VivaValue::Number(number) = &given.value {
                object["value"] = json!(number.number);
                object["unit"] = json!(number.unit.map(sim_core::units::Unit::words));
            }
            if let Some(made) = given.slip {
                object["reply"] = json!(slip(made));
            }
            object
        })
        .collect();
    let changes: Vec<String> = question.changes.iter().map(ToString::to_string).collect();
    json!({
        "ask": ask(question), "set_up": set_up(question), "with": changes, "answers": answers,
        "right": question.right + 1,
    })
}
