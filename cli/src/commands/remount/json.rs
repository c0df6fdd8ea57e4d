//! A remount as an object.

use serde_json::{Value, json};
use sim_core::cusp::Tooth;
use sim_core::excursion::Movement;
use sim_core::remount::{
    Centric, CentricErrors, CentricVerdict, CuspGrinding, Grinding, GrindingList, Processing,
};
use words::verdict::remount as say;

use crate::output::{exact, exact_coordinates};
use report::remount::{Grind, RemountReport};

/// The report as an object.
pub(super) fn object(report: &RemountReport) -> Value {
    let (processing, centric) = (report.processing.as_ref(), report.centric.as_ref());
    json!({
        "title": report.title,
        "scene": report.scene,
        "intended": report.judged.scheme.name(),
        "judged": report.judged.sentence(),
        "processing": processing.map(of_processing),
        "centric": centric.map(of_centric),
        "to_do": say::to_do(processing, centric),
        "grinding": match &report.grinding {
            Grind::List(list) => of_list(list),
            Grind::Cusps(_) | Grind::NoCasts | Grind::Withheld => Value::Null,
        },
        "cusps_in_the_way": match &report.grinding {
            Grind::Cusps(cusps) => cusps.iter().map(of_cusp).collect::<Vec<Value>>().into(),
            _ => Value::Null,
        },
        "grinding_withheld": matches!(report.grinding, Grind::Withheld),
        "grinding_caution": words::verdict::scheme::REDUCTION_CAUTION,
    })
}

fn of_processing(of: &Processing) -> Value {
    let gap = |one: &sim_core::remount::GapByLift| json!({"cusp": one.cusp, "gap_mm": exact(one.gap.mm())});
    json!({
        "pin_lift_mm": exact(of.pin_lift.mm()),
        "turn_deg": exact(of.turn.degrees()),
        "at_incisors_mm": exact(of.at_incisors.mm()),
        "gaps_by_the_lift": of.teeth.iter().map(gap).collect::<Vec<Value>>(),
        "verdict": say::processing(of),
    })
}

fn of_centric(of: &Centric) -> Value {
    json!({
        "verdict": match of.verdict {
            CentricVerdict::Stands => "stands",
            CentricVerdict::Wrong => "wrong",
            CentricVerdict::Undecided => "undecided",
        },
        "sentence": say::centric(of),
        "hinge_turn_deg": exact(of.turn.degrees()),
        "shift_mm": exact_coordinates(&of.shift_mm),
        "roll_deg": exact(of.roll.degrees()),
        "yaw_deg": exact(of.yaw.degrees()),
        "right_condyle_mm": exact_coordinates(&of.condyles_mm[0]),
        "left_condyle_mm": exact_coordinates(&of.condyles_mm[1]),
        "farthest_mm": exact(of.farthest.mm()),
        "tolerance_mm": exact(of.tolerance.mm()),
        "by_gaps": of.by_gaps,
        "standard_errors": of.errors.as_ref().map(errors),
    })
}

fn errors(of: &CentricErrors) -> Value {
    json!({
        "hinge_turn_deg": exact(of.turn.degrees()),
        "shift_mm": exact_coordinates(&of.shift_mm),
        "roll_deg": exact(of.roll.degrees()),
        "yaw_deg": exact(of.yaw.degrees()),
        "condyle_mm": exact(of.condyle.mm()),
        "chi_square": exact(of.chi_square),
        "degrees_of_freedom": of.freedom,
        "chance": exact(of.chance),
    })
}

fn of_list(list: &GrindingList) -> Value {
    let unreached = |(movement, region): &(Option<Movement>, sim_core::occlusion::Region)| json!({"excursion": movement.map_or("centric", Movement::name), "region": region.name()});
    json!({
        "pin_lift_before_mm": list.pin_before.map(|lift| exact(lift.mm())),
        "pin_lift_after_centric_mm": list.pin_after.map(|lift| exact(lift.mm())),
        "places": list.places.iter().map(of_place).collect::<Vec<Value>>(),
        "unreached": list.unreached.iter().map(unreached).collect::<Vec<Value>>(),
    })
}

fn of_cusp(cusp: &CuspGrinding) -> Value {
    json!({
        "step": cusp.kind.name(),
        "excursion": cusp.movement.map(Movement::name),
        "advance_mm": exact(cusp.advance.mm()),
        "cusp": cusp.cusp,
        "opposing_incline": cusp.incline.name(),
        "surface": cusp.ground.map(sim_core::remount::Ground::name),
        "amount_mm": exact(cusp.amount.mm()),
    })
}

fn of_place(place: &Grinding) -> Value {
    let number = |tooth: Option<Tooth>| tooth.map(Tooth::number);
    let (upper, lower) = place.teeth();
    let pair = |(upper, lower): &(Option<Tooth>, Option<Tooth>)| json!([number(*upper), number(*lower)]);
    json!({
        "step": place.kind.name(),
        "excursion": place.movement.map(Movement::name),
        "advance_mm": exact(place.advance.mm()),
        "upper_tooth": number(upper),
        "lower_tooth": number(lower),
        "grind_tooth": number(place.tooth()),
        "surface": place.ground.name(),
        "amount_mm": exact(place.amount.mm()),
        "at_mm": exact_coordinates(place.nearest.upper.coords()),
        "then_carried_by": place.then.iter().map(pair).collect::<Vec<Value>>(),
    })
}
