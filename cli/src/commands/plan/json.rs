//! A plan as an object.

use serde_json::{Value, json};
use sim_core::instrument::Design;
use sim_core::plan::{
    Allowance, Balanced, Disclosed, FactorChange, Glide, Incline, Reached, RequiredInclines, Role, Variant,
    WhatIf,
};

use crate::output::exact;
use report::planned::{Answer, Planned};

pub(super) fn object(planned: &Planned) -> Value {
    let list = |needed: &[RequiredInclines]| needed.iter().map(inclines).collect::<Vec<Value>>();
    json!({
        "title": planned.scene.title,
        "chord_mm": planned.plan.chord.mm(),
        "required_inclines": {"teeth": list(&planned.teeth), "cusps": list(&planned.cusps)},
        "goal": planned.answer.as_ref().map(|answer| match answer {
            Answer::Balanced(found) => balanced(found),
            Answer::Disclosed(found) => disclosed(found),
        }),
        "what_if": planned.what_ifs.iter().map(what_if).collect::<Vec<Value>>(),
    })
}

fn inclines(needed: &RequiredInclines) -> Value {
    let at: [f64; 3] = needed.place.at.into();
    json!({
        "tooth": needed.place.tooth.number(), "name": needed.place.name, "at_mm": at.map(exact),
        "protrusive": glide(needed.glide(Role::Protrusive)),
        "working": glide(needed.glide(Role::Working)),
        "orbiting": glide(needed.glide(Role::Orbiting)),
        "protrusive_by_proportion_deg": exact(needed.by_proportion.degrees()),
        "proportion_is_off_deg": exact(needed.rule_is_off().degrees()),
    })
}

fn glide(glide: &Glide) -> Value {
    json!({"tangent": incline(&glide.tangent), "chord": incline(&glide.chord)})
}

fn incline(incline: &Incline) -> Value {
    json!({
        "to_occlusal_plane_deg": exact(incline.along_way.degrees()),
        "to_tooth_axis_deg": exact(incline.to_axis.degrees()),
        "direction_deg": exact(incline.direction.degrees()),
        "sagittal_deg": incline.sagittal.map(|angle| exact(angle.degrees())),
        "transverse_deg": incline.transverse.map(|angle| exact(angle.degrees())),
    })
}

fn change(change: &FactorChange) -> Value {
    let mut object = json!({
        "factor": change.factor.label().replace(' ', "_"),
        "from_deg": exact(change.from.degrees()),
        "to_deg": exact(change.to.degrees()),
    });
    if change.factor == sim_core::plan::Factor::CompensatingCurve {
        object["radius_mm"] = json!(change.radius().map(sim_core::units::Length::mm));
    }
    object
}

fn changes(all: &[FactorChange]) -> Vec<Value> {
    all.iter().map(change).collect()
}

fn balanced(found: &Balanced) -> Value {
    let gaps = found.gaps.iter().map(|own| {
        json!({"tooth": own.tooth.number(), "excursion": own.role.name(), "gap_mm": exact(own.gap.mm())})
    });
    let alone = found.alone.iter().map(|own| {
        let mut object = change(&own.change);
        object["reached"] = json!(own.met);
        object["greatest_gap_mm"] = json!(exact(own.greatest.mm()));
        object
    });
    let proportion = found.proportion.iter().map(|row| {
        json!({
            "changed": row.changed.label().replace(' ', "_"), "by_deg": row.by.degrees(),
            "factor": row.answer.label().replace(' ', "_"), "from_deg": exact(row.from.degrees()),
            "exact_deg": row.exact.map(|angle| exact(angle.degrees())),
            "rule_deg": row.rule.map(|angle| exact(angle.degrees())),
            "rule_is_off_deg": row.rule_is_off().map(|angle| exact(angle.degrees())),
        })
    });
    json!({
        "name": "balanced_articulation", "reached": found.met, "changes": changes(&found.changes),
        "greatest_gap_mm": exact(found.greatest.mm()),
        "greatest_gap_before_mm": exact(found.greatest_before.mm()),
        "gaps": gaps.collect::<Vec<Value>>(), "alone": alone.collect::<Vec<Value>>(),
        "proportion": proportion.collect::<Vec<Value>>(),
    })
}

fn reached(own: &Reached) -> Value {
    json!({
        "tooth": own.tooth.number(), "name": own.name, "excursion": own.role.name(),
        "advance_mm": own.advance.mm(), "wanted_mm": own.wanted.mm(),
        "before_mm": exact(own.before.mm()), "reached_mm": exact(own.reached.mm()),
        "least_reachable_mm": exact(own.reach.0.mm()), "greatest_reachable_mm": exact(own.reach.1.mm()),
        "holds_the_answer": own.holds,
    })
}

fn allowance(own: &Allowance) -> Value {
    let mut object = json!({"tooth": own.tooth.number(), "name": own.name});
    for (name, stands, most) in &own.inclines {
        object[*name] =
            json!({"is_deg": stands.degrees(), "steepest_deg": most.map(|most| exact(most.degrees()))});
    }
    object
}

fn disclosed(found: &Disclosed) -> Value {
    let sensitivities = found.sensitivities.iter().map(|own| {
        let answer = found.changes.iter().zip(&own.answer_per_degree).map(|(change, slope)| {
            json!({"factor": change.factor.label().replace(' ', "_"), "deg_per_deg": exact(*slope)})
        });
        let clearances = found.reached.iter().zip(&own.clearance_per_degree).map(|(reached, slope)| {
            json!({"tooth": reached.tooth.number(), "name": reached.name, "excursion": reached.role.name(),
                "advance_mm": reached.advance.mm(), "mm_per_deg": exact(slope.mm())})
        });
        json!({"of": own.of.label().replace(' ', "_"), "answer": answer.collect::<Vec<Value>>(),
            "clearances": clearances.collect::<Vec<Value>>()})
    });
    json!({
        "name": "disclusion", "reached": found.met, "changes": changes(&found.changes),
        "clearances": found.reached.iter().map(reached).collect::<Vec<Value>>(),
        "in_the_way": found.in_the_way.map(|index| reached(&found.reached[index])),
        "steepest_inclines": found.allowances.iter().map(allowance).collect::<Vec<Value>>(),
        "sensitivities": sensitivities.collect::<Vec<Value>>(),
    })
}

fn what_if(own: &WhatIf) -> Value {
    let (name, mm, degrees) = match own.variant {
        Variant::AsItStands => ("as_it_stands", None, None),
        Variant::Pin(by) => ("pin", Some(by.mm()), None),
        Variant::Tilt(by) => ("occlusal_plane_tilted", None, Some(by.degrees())),
        Variant::Shift(by) => ("occlusal_plane_shifted", Some(by.mm()), None),
    };
    json!({
        "change": name, "by_mm": mm, "by_deg": degrees,
        "design": match own.design { Design::Arcon => "arcon", Design::NonArcon => "non_arcon" },
        "opening_deg": exact(own.opening.degrees()),
        "required_inclines": inclines(&own.inclines),
        "goal": own.answer.as_ref().map(|answer| json!({
            "reached": answer.met, "greatest_miss_mm": exact(answer.greatest.mm()),
            "changes": changes(&answer.changes),
        })),
    })
}
