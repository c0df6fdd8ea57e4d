//! The walk as an object.

use serde_json::{Value, json};
use sim_core::bench::{Closing, RecordStep, Step};
use sim_core::frame::{PerSide, Side};
use sim_core::units::{Angle, Length};
use words::verdict::bench::{state, title, to_do, to_doubt};

use crate::bench_walk::BenchWalk;
use crate::rows::exact;

/// A case walked along the bench.
#[must_use]
pub fn bench(report: &BenchWalk<'_>) -> Value {
    let steps: Vec<Value> = report.steps.iter().map(|step| step_object(report, step)).collect();
    json!({
        "title": report.worked.case.title,
        "set_at": {
            "horizontal_inclination_deg": angles(&report.trial.inclination),
            "lateral_angle_deg": angles(&report.trial.lateral),
        },
        "steps": steps,
        "warnings": report.worked.warnings,
    })
}

fn step_object(report: &BenchWalk<'_>, step: &Step) -> Value {
    let mut object = json!({"step": name(step), "title": title(step), "state": state(step),
        "to_do": to_do(step), "to_doubt": to_doubt(step)});
    match step {
        Step::Centric(Some(centric)) => {
            object["largest_gap_mm"] = json!(exact(centric.greatest.mm()));
            object["off_stop_mm"] = json!(centric.off_stop.as_ref().map(lengths));
        }
        Step::Record(record) => record_fields(report, record, &mut object),
        Step::Lateral { side, angle } => {
            object["side"] = json!(side.name());
            object["lateral_angle_deg"] = json!(angle.as_ref().map(|read| exact(read.angle.value.degrees())));
        }
        Step::Zeroed | Step::Split { .. } | Step::Centric(None) | Step::Anterior { .. } => {}
    }
    object
}

const fn name(step: &Step) -> &'static str {
    match step {
        Step::Zeroed => "zeroed",
        Step::Split { .. } => "split",
        Step::Centric(_) => "centric",
        Step::Record(_) => "record",
        Step::Lateral { .. } => "lateral_angle",
        Step::Anterior { .. } => "anterior_guide",
    }
}

fn record_fields(report: &BenchWalk<'_>, step: &RecordStep, object: &mut Value) {
    object["record"] = json!(step.kind.name());
    object["number"] = json!(step.record + 1);
    if let Closing::Gaps { at, .. } = &step.closing {
        let names = report.worked.case.groove_names();
        let gaps =
            names.iter().zip(&at.gaps).map(|(name, gap)| json!({"at": name, "gap_mm": exact(gap.mm())}));
        object["gaps"] = gaps.collect();
        object["guide_too_low_mm"] = lengths(&at.too_low);
        object["guide_stands_off_mm"] = lengths(&at.stands_off);
    }
    let turns = step.turns.iter().map(|turn| {
        json!({"side": turn.side.name(), "set_deg": exact(turn.set.degrees()),
            "closes_at_deg": exact(turn.closes_at.degrees()), "by_deg": exact(turn.by().degrees())})
    });
    object["turns"] = turns.collect();
    object["lateral"] = json!(step.lateral.map(|turn| {
        json!({"side": turn.side.name(), "set_deg": exact(turn.set.degrees()),
            "touches_at_deg": exact(turn.touches_at.degrees()), "beyond_mm": exact(turn.beyond.mm())})
    }));
}

fn angles(both: &PerSide<Angle>) -> Value {
    json!({"right": exact(both[Side::Right].degrees()), "left": exact(both[Side::Left].degrees())})
}

fn lengths(both: &PerSide<Length>) -> Value {
    json!({"right": exact(both[Side::Right].mm()), "left": exact(both[Side::Left].mm())})
}
