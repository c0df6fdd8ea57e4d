//! The set-up as an object.

use serde_json::{Value, json};
use sim_core::tracing::{LegSetup, Member, PlatePoint, RimGaps};

use super::judged::SetupReport;
use crate::output::exact;

/// Everything that the set-up tells. What is absent is null.
pub(super) fn object(report: &SetupReport) -> Value {
    let setup = &report.setup;
    let tracer = &setup.tracer;
    let told: Vec<Value> = words::verdict::tracer::setup(setup)
        .into_iter()
        .map(|(sound, sentence)| json!({"sound": sound, "message": sentence}))
        .collect();
    json!({
        "title": report.title,
        "plate_on": match tracer.plate_on {
            Member::Lower => "lower",
            Member::Upper => "upper",
        },
        "stylus_mm": [tracer.stylus_mm.x, tracer.stylus_mm.y, tracer.stylus_mm.z],
        "plate_size_mm": [2.0 * tracer.half_mm.0, 2.0 * tracer.half_mm.1],
        "plate_to_occlusal_plane_deg": exact(setup.plate_to_plane.degrees()),
        "distance_mm": setup.distance.mm(),
        "reach_mm": setup.reach.mm(),
        "clear_of_table_mm": setup.clear_of_table.map(|clear| exact(clear.mm())),
        "rims_apart_mm": tracer.rims_apart.mm(),
        "lengthen_bearing_mm": setup.lengthen.map(|by| exact(by.mm())),
        "legs": setup.legs.iter().map(|leg| self::leg(leg, setup.drawn.leg(leg.leg))).collect::<Vec<_>>(),
        "told": told,
    })
}

fn leg(leg: &LegSetup, drawn: &[PlatePoint]) -> Value {
    let place = |point: &PlatePoint| json!([exact(point.forward.mm()), exact(point.left.mm())]);
    let gaps = |gaps: &RimGaps| {
        json!({"right_heel_mm": exact(gaps.right_heel.mm()), "left_heel_mm": exact(gaps.left_heel.mm()),
            "front_mm": exact(gaps.front.mm())})
    };
    json!({
        "name": leg.leg.name(),
        "hole_forward_left_mm": place(&leg.hole),
        "end_forward_left_mm": place(&leg.end),
        "end_inside_plate_mm": exact(leg.inside.mm()),
        "rims_at_distance": gaps(&leg.gaps),
        "rims_least": gaps(&leg.least),
        "drawn_forward_left_mm": drawn.iter().map(place).collect::<Vec<_>>(),
    })
}
