//! The checklist and the departures as an object.

use serde_json::{Value, json};
use sim_core::setting::{ChecklistItem, Departure, DepartureValue, Standing};
use words::verdict::baseline;

use super::checked::BaselineReport;
use super::names::departure_name;

pub(super) fn object(report: &BaselineReport) -> Value {
    let departures: Vec<Value> = report.departures.iter().map(departure_object).collect();
    let item = |item: &ChecklistItem| {
        let (scene, names) = match &item.standing {
            Standing::Stands => ("stands", Vec::new()),
            Standing::Off(departures) => ("off", departures.iter().map(departure_name).collect()),
            Standing::CannotTell => ("cannot_tell", Vec::new()),
        };
        json!({"check": item.check.name(), "asks": baseline::asked(item.check, &report.baseline),
            "why": baseline::why(item.check), "scene": scene, "says": baseline::says(item), "departures": names})
    };
    json!({"title": report.title, "zeroed": departures.is_empty(),
        "baseline": {"is_example": report.is_example, "settings": report.baseline},
        "checklist": report.checklist.iter().map(item).collect::<Vec<Value>>(), "departures": departures})
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
