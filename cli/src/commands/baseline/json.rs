//! The departures as an object.

use serde_json::{Value, json};
use sim_core::setting::{Departure, DepartureValue};

use super::names::departure_name;

pub(super) fn object(title: &str, departures: &[Departure]) -> Value {
    let departures: Vec<Value> = departures.iter().map(departure_object).collect();
    json!({"title": title, "zeroed": departures.is_empty(), "departures": departures})
}

fn departure_object(departure: &Departure) -> Value {
    let mut object = json!({"name": departure_name(departure), "label": departure.label,
        "side": departure.side.map(|side| side.name())});
    match departure.value {
        DepartureValue::Number { is, zeroed, unit } => {
            object["unit"] = json!(unit.words());
            object["is"] = json!(is);
            object["zeroed"] = json!(zeroed);
        }
        DepartureValue::Word { is, zeroed } => {
            object["is"] = json!(is);
            object["zeroed"] = json!(zeroed);
        }
    }
    object
}
