//! Contacts: what touches, what guides, what is in the way.

use nalgebra::Vector3;
use serde_json::{Value, json};
use sim_core::cast::{Nearest, ToothReading};
use sim_core::cusp::Tooth;
use sim_core::occlusion::{
    ContactKind, Difference, Held, Interference, Interferences, Lack, Missing, MissingContacts, Scheme,
    Verdict,
};
use sim_core::units::Length;

use crate::contacts::{Against, ContactsReport, PoseContacts, micrometres};
use crate::rows::exact;

/// What teeth touch, what guides, what is in the way.
#[must_use]
pub fn contacts(report: &ContactsReport) -> Value {
    json!({
        "title": report.title,
        "films_um": report.films.iter().map(|film| micrometres(*film)).collect::<Vec<f64>>(),
        "poses": report.poses.iter().map(|pose| pose_object(report, pose)).collect::<Vec<Value>>(),
        "guidance": report.guidance.iter().map(|verdict| guidance(report, verdict)).collect::<Vec<Value>>(),
        "interferences": {
            "intended": report.judged.scheme.name(),
            "judged": report.judged.sentence(),
            "caution": words::verdict::scheme::REDUCTION_CAUTION,
            "to_mm": mm(report.search.to),
            "least_mm": mm(report.search.least),
            "followed": report.in_the_way.followed.iter().map(followed).collect::<Vec<Value>>(),
            "found": report.in_the_way.interferences.iter().map(interference).collect::<Vec<Value>>(),
        },
        "missing": report.missing.as_deref().map(missing_contacts),
        "against": report.against.as_ref().map(against),
    })
}

fn pose_object(report: &ContactsReport, pose: &PoseContacts) -> Value {
    let placement = &pose.placement;
    let teeth: Vec<Value> =
        pose.reading.teeth.iter().map(|reading| tooth_object(report, pose, reading)).collect();
    json!({
        "name": pose.place.name(),
        "advance_mm": mm(placement.advance()),
        "opening_deg": exact(placement.opening().degrees()),
        "guided_by": placement.guidance.name(),
        "pin_lift_mm": placement.pin_lift.map(mm),
        "least_vertical_gap": pose.reading.vertical.as_ref().map(nearest),
        "least_distance": nearest(&pose.reading.distance),
        "teeth": teeth,
    })
}

fn tooth_object(report: &ContactsReport, pose: &PoseContacts, reading: &ToothReading) -> Value {
    let mark = |(index, film): (usize, &sim_core::cast::Film)| {
        let mark = pose.mark(index, reading.tooth);
        json!({
            "film_um": micrometres(*film),
            "area_mm2": mark.map_or(0.0, |mark| exact(mark.area_mm2)),
            "centroid_mm": mark.map(|mark| mark.centroid_mm.map(exact)),
        })
    };
    json!({
        "tooth": reading.tooth.number(),
        "least_vertical_gap_mm": reading.vertical.map(|nearest| mm(nearest.gap)),
        "least_distance_mm": mm(reading.distance.gap),
        "marks": report.films.iter().enumerate().map(mark).collect::<Vec<Value>>(),
    })
}

fn nearest(nearest: &Nearest) -> Value {
    json!({
        "gap_mm": mm(nearest.gap),
        "upper_tooth": number(nearest.upper_tooth),
        "lower_tooth": number(nearest.lower_tooth),
        "at_mm": coordinates(nearest.upper.coords()),
    })
}

fn guidance(report: &ContactsReport, verdict: &Verdict) -> Value {
    let share = |(scheme, share): &(Scheme, f64)| json!({"scheme": scheme.name(), "share": share});
    json!({
        "excursion": verdict.movement.name(),
        "working_side": verdict.movement.working_side().map(|side| side.name()),
        "scheme": verdict.scheme.name(),
        "rule": words::verdict::scheme::rule(verdict.scheme, verdict.movement),
        "share": verdict.share,
        "from_mm": mm(verdict.from),
        "to_mm": mm(verdict.to),
        "film_um": mm(report.stretch.film) * 1000.0,
        "schemes": verdict.shares.iter().map(share).collect::<Vec<Value>>(),
        "contacts": verdict.evidence.iter().map(held).collect::<Vec<Value>>(),
    })
}

fn held(held: &Held) -> Value {
    json!({
        "contact": held.kind.name(),
        "upper_tooth": number(held.nearest.upper_tooth),
        "lower_tooth": number(held.nearest.lower_tooth),
        "least_distance_mm": mm(held.nearest.gap),
        "at_mm": coordinates(held.nearest.upper.coords()),
        "advance_mm": mm(held.advance),
        "from_mm": mm(held.from),
        "to_mm": mm(held.to),
        "share": held.share,
    })
}

fn followed(followed: &Interferences) -> Value {
    json!({
        "excursion": followed.movement.name(),
        "guided_to_mm": mm(followed.guided_to),
        "guides_apart_mm": followed.guides_apart.map(mm),
    })
}

fn interference(interference: &Interference) -> Value {
    let (upper, lower) = interference.teeth();
    json!({
        "excursion": interference.movement.name(),
        "contact": interference.kind.name(),
        "upper_tooth": number(upper),
        "lower_tooth": number(lower),
        "upper_reduction_mm": mm(interference.upper_reduction),
        "lower_reduction_mm": mm(interference.lower_reduction),
        "square_mm": mm(interference.square),
        "advance_mm": mm(interference.advance),
        "from_mm": mm(interference.from),
        "to_mm": mm(interference.to),
        "at_mm": coordinates(interference.nearest.upper.coords()),
    })
}

fn missing_contacts(all: &[MissingContacts]) -> Value {
    let lack = |lack: &Lack| {
        let mut object = missing(&lack.missing);
        object["region"] = lack.region.name().into();
        object
    };
    let tooth = |(tooth, kind, of): &(Tooth, ContactKind, Missing)| {
        let mut object = missing(of);
        object["upper_tooth"] = tooth.number().into();
        object["contact"] = kind.name().into();
        object
    };
    let of = |one: &MissingContacts| {
        json!({
            "excursion": one.movement.name(),
            "from_mm": mm(one.from),
            "to_mm": mm(one.to),
            "lacks": one.lacks.iter().map(lack).collect::<Vec<Value>>(),
            "teeth": one.teeth.iter().map(tooth).collect::<Vec<Value>>(),
        })
    };
    all.iter().map(of).collect::<Vec<Value>>().into()
}

fn missing(missing: &Missing) -> Value {
    let nearest = missing.nearest;
    json!({
        "apart_mm": nearest.map(|nearest| mm(nearest.gap)),
        "upper_tooth": nearest.and_then(|nearest| number(nearest.upper_tooth)),
        "lower_tooth": nearest.and_then(|nearest| number(nearest.lower_tooth)),
        "advance_mm": mm(missing.advance),
        "from_mm": mm(missing.from),
        "to_mm": mm(missing.to),
        "share": missing.share,
    })
}

fn against(against: &Against) -> Value {
    let mut object = json!({"with": against.with, "hidden": [], "invented": [], "changed": []});
    object["missing"] = against.missing.as_deref().map_or(Value::Null, missing_contacts);
    for difference in &against.differences {
        let (list, entry) = match difference {
            Difference::Hidden(before) => ("hidden", interference(before)),
            Difference::Invented(after) => ("invented", interference(after)),
            Difference::Changed { before, after } => {
                ("changed", json!({"before": interference(before), "after": interference(after)}))
            }
        };
        if let Some(list) = object[list].as_array_mut() {
            list.push(entry);
        }
    }
    object
}

fn number(tooth: Option<Tooth>) -> Option<u8> {
    tooth.map(Tooth::number)
}

fn mm(length: Length) -> f64 {
    exact(length.mm())
}

fn coordinates(place: &Vector3<f64>) -> [f64; 3] {
    [place.x, place.y, place.z].map(exact)
}
