//! A marked answer, as an object.

use serde_json::{Value, json};
use sim_core::doubt::DISCLUSION_ADVANCE_MM;
use sim_core::practice::{Mark, POINTS_PER_SETTING, POINTS_PER_VERDICT, SettingOutcome, Verdict};
use sim_core::units::Angle;

use crate::output::exact;

pub(super) fn object(mark: &Mark) -> Value {
    let degrees = |angle: Option<Angle>| angle.map(Angle::degrees);
    let settings = mark.settings.iter().map(|one| {
        let beyond = match one.outcome {
            SettingOutcome::Off { beyond } => Some(beyond.degrees()),
            _ => None,
        };
        json!({"side": one.side.name(), "name": one.setting.key, "answer": degrees(one.answer),
            "truth": one.truth.degrees(), "records_give": degrees(one.read),
            "standard_error": degrees(one.standard_error), "outcome": one.outcome.name(),
            "beyond_deg": beyond, "points": one.points, "of": POINTS_PER_SETTING,
            "why": words::verdict::mark::setting(one.outcome)})
    });
    let verdicts = mark.verdicts.iter().map(|one| {
        let verdict = match one.verdict {
            Verdict::Open => "open",
            Verdict::Accepted => "accepted",
            Verdict::Rejected => "rejected",
        };
        let faults: Vec<&str> = one.faults.iter().map(|fault| words::verdict::mark::fault(*fault)).collect();
        json!({"on": one.check.name(), "faults": faults, "verdict": verdict,
            "outcome": one.outcome.name(), "points": one.points, "of": POINTS_PER_VERDICT,
            "why": words::verdict::mark::verdict(one.outcome)})
    });
    let cusps = mark.disclusion.iter().map(|one| {
        let (truth, answer) = (one.truth.mm(), one.answer.mm());
        json!({"excursion": one.movement.name(), "tooth": one.tooth.number(), "name": one.name,
            "truth_mm": exact(truth), "answer_mm": exact(answer), "error_mm": exact(answer - truth)})
    });
    json!({
        "deal": mark.deal.to_string(), "points": mark.points, "of": 100.0,
        "settings": settings.collect::<Vec<Value>>(), "verdicts": verdicts.collect::<Vec<Value>>(),
        "centric_off": mark.centric_off.map(words::verdict::mark::direction),
        "disclusion_advance_mm": DISCLUSION_ADVANCE_MM, "disclusion": cusps.collect::<Vec<Value>>(),
    })
}
