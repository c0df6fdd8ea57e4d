//! The settings as an object.

use serde_json::{Value, json};
use sim_core::setting::{self, Choice};

pub(super) fn object() -> Value {
    let numbers = setting::listed().map(|setting| {
        let facts = setting.facts;
        json!({"name": setting.name, "label": facts.label, "unit": facts.unit.words(), "min": facts.min,
            "max": facts.max, "step": facts.step, "zeroed": facts.zeroed,
            "each_side": setting.each_side, "doc": facts.doc})
    });
    let choices = Choice::ALL.into_iter().map(|choice| {
        json!({"name": choice.key(), "label": choice.label(), "words": choice.words(),
            "each_side": choice.is_per_side()})
    });
    json!({"settings": numbers.chain(choices).collect::<Vec<Value>>()})
}
