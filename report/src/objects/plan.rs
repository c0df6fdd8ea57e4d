//! A plan as an object.

use serde_json::{Value, json};
use sim_core::frame::Side;
use sim_core::instrument::Design;
use sim_core::plan::{
    Allowance, Balanced, Disclosed, FactorChange, Glide, Incline, MUCH_STEEPER, Reached, RequiredInclines,
    Role, SteepGuidance, ToothGap, Variant, WhatIf,
};

use crate::planned::{Answer, Planned};
use crate::rows::exact;

/// A plan worked out.
#[must_use]
pub fn plan(planned: &Planned) -> Value {
    let list = |needed: &[RequiredInclines]| needed.iter().map(inclines).collect::<Vec<Value>>();
    json!({
        "title": planned.scene.title,
        "chord_mm": planned.plan.chord.mm(),
        "required_inclines": {"teeth": list(&planned.teeth), "cusps": list(&planned.cusps)},
        "goal": planned.answer.as_ref().map(|answer| match answer {
            Answer::Balanced(balance) => balanced(balance),
            Answer::Disclosed(disclosure) => disclosed(disclosure),
        }),
        "steep_guidance": planned.steep_guidance().as_ref().map(steep),
        "what_if": planned.what_ifs.iter().map(what_if).collect::<Vec<Value>>(),
    })
}

fn steep(steep: &SteepGuidance) -> Value {
    json!({
        "incisal_guidance_deg": exact(steep.incisal.degrees()),
        "condylar_path_deg": exact(steep.condylar.degrees()),
        "flatter_side": steep.flatter.map(|side| match side { Side::Right => "right", Side::Left => "left" }),
        "chord_mm": steep.over.mm(),
        "steeper_by_deg": exact(steep.by().degrees()), "told_above_deg": MUCH_STEEPER.degrees(),
        "caution": words::verdict::plan::steep_guidance(steep),
        "source": words::verdict::plan::STEEP_SOURCE,
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

fn gap(gap: &ToothGap) -> Value {
    json!({"tooth": gap.tooth.number(), "excursion": gap.role.name(), "gap_mm": exact(gap.gap.mm())})
}

fn balanced(balance: &Balanced) -> Value {
    let gaps = balance.gaps.iter().map(gap);
    let alone = balance.alone.iter().map(|alone| {
        let mut object = change(&alone.change);
        object["reached"] = json!(alone.met);
        object["greatest_gap_mm"] = json!(exact(alone.greatest.mm()));
        object
    });
    let proportion = balance.proportion.iter().map(|row| {
        json!({
            "changed": row.changed.label().replace(' ', "_"), "by_deg": row.by.degrees(),
            "factor": row.answer.label().replace(' ', "_"), "from_deg": exact(row.from.degrees()),
            "exact_deg": row.exact.map(|angle| exact(angle.degrees())),
            "rule_deg": row.rule.map(|angle| exact(angle.degrees())),
            "rule_is_off_deg": row.rule_is_off().map(|angle| exact(angle.degrees())),
        })
    });
    json!({
        "name": "balanced_articulation", "reached": balance.met, "changes": changes(&balance.changes),
        "greatest_gap_mm": exact(balance.greatest.mm()),
        "greatest_gap_before_mm": exact(balance.greatest_before.mm()),
        "asked_for": {
            "teeth": balance.teeth.iter().map(|tooth| tooth.number()).collect::<Vec<u8>>(),
            "excursions": balance.excursions.iter().map(|role| role.name()).collect::<Vec<&str>>(),
            "advance_mm": balance.advance.mm(),
        },
        "greatest_gap_of_all": balance.greatest_of_all().map(gap),
        "gaps": gaps.collect::<Vec<Value>>(), "alone": alone.collect::<Vec<Value>>(),
        "proportion": proportion.collect::<Vec<Value>>(),
        "proportion_source": words::verdict::plan::RULE_OF_PROPORTION,
    })
}

fn reached(cusp: &Reached) -> Value {
    json!({
        "tooth": cusp.tooth.number(), "name": cusp.name, "excursion": cusp.role.name(),
        "advance_mm": cusp.advance.mm(), "wanted_mm": cusp.wanted.mm(),
        "before_mm": exact(cusp.before.mm()), "reached_mm": exact(cusp.reached.mm()),
        "least_reachable_mm": exact(cusp.reach.0.mm()), "greatest_reachable_mm": exact(cusp.reach.1.mm()),
        "holds_the_answer": cusp.holds,
    })
}

fn allowance(allowance: &Allowance) -> Value {
    let mut object = json!({"tooth": allowance.tooth.number(), "name": allowance.name});
    for (name, stands, most) in &allowance.inclines {
        object[*name] =
            json!({"is_deg": stands.degrees(), "steepest_deg": most.map(|most| exact(most.degrees()))});
    }
    object
}

fn disclosed(disclosure: &Disclosed) -> Value {
    let sensitivities = disclosure.sensitivities.iter().map(|sensitivity| {
        let answer = disclosure.changes.iter().zip(&sensitivity.answer_per_degree).map(|(change, slope)| {
            json!({"factor": change.factor.label().replace(' ', "_"), "deg_per_deg": exact(*slope)})
        });
        let clearances = disclosure.reached.iter().zip(&sensitivity.clearance_per_degree).map(|(reached, slope)| {
            json!({"tooth": reached.tooth.number(), "name": reached.name, "excursion": reached.role.name(),
                "advance_mm": reached.advance.mm(), "mm_per_deg": exact(slope.mm())})
        });
        json!({"of": sensitivity.of.label().replace(' ', "_"), "answer": answer.collect::<Vec<Value>>(),
            "clearances": clearances.collect::<Vec<Value>>()})
    });
    json!({
        "name": "disclusion", "reached": disclosure.met, "changes": changes(&disclosure.changes),
        "clearances": disclosure.reached.iter().map(reached).collect::<Vec<Value>>(),
        "in_the_way": disclosure.in_the_way.map(|index| reached(&disclosure.reached[index])),
        "steepest_inclines": disclosure.allowances.iter().map(allowance).collect::<Vec<Value>>(),
        "sensitivities": sensitivities.collect::<Vec<Value>>(),
    })
}

fn what_if(what_if: &WhatIf) -> Value {
    let (name, mm, degrees) = match what_if.variant {
        Variant::AsItStands => ("as_it_stands", None, None),
        Variant::Pin(by) => ("pin", Some(by.mm()), None),
        Variant::Tilt(by) => ("occlusal_plane_tilted", None, Some(by.degrees())),
        Variant::Shift(by) => ("occlusal_plane_shifted", Some(by.mm()), None),
    };
    json!({
        "change": name, "by_mm": mm, "by_deg": degrees,
        "design": match what_if.design { Design::Arcon => "arcon", Design::NonArcon => "non_arcon" },
        "opening_deg": exact(what_if.opening.degrees()),
        "required_inclines": inclines(&what_if.inclines),
        "goal": what_if.answer.as_ref().map(|answer| json!({
            "reached": answer.met, "greatest_miss_mm": exact(answer.greatest.mm()),
            "changes": changes(&answer.changes),
        })),
    })
}
