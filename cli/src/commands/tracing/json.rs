//! The object of a tracing.

use serde_json::{Value, json};
use sim_core::tracing::{Apart, Ellipse, Estimate, LegFindings, Objection, Order, PlatePoint, Shape};
use sim_core::units::{Angle, Length};

use crate::output::exact;
use report::tracing::{Over, TracingReport, objection_name, objection_text};

/// Everything that a tracing showed. What is absent is null.
pub(super) fn object(report: &TracingReport) -> Value {
    let findings = &report.findings;
    let objections: Vec<Value> = findings.objections().iter().map(objection).collect();
    let apex = &findings.apex;
    let roundness = &findings.roundness;
    let second = findings.second_apex.map(|second| {
        json!({"forward_mm": exact(second.at.forward.mm()), "left_mm": exact(second.at.left.mm()),
            "distance_mm": length(&second.distance)})
    });
    let legs: Vec<Value> = findings.legs.iter().map(leg).collect();
    let of = |value: Length, error: Length| json!({"value": exact(value.mm()), "standard_error": error.mm()});
    json!({
        "file": report.name,
        "photo": report.photo.map(|photo| {
            json!({"pixels_per_mm": photo.pixels_per_mm, "line_width_mm": photo.line_width_mm,
                "marks_apart_pixels": photo.marks_apart_pixels})
        }),
        "verdict": if objections.is_empty() { "accepted" } else { "repeat" },
        "accepted_narrowly": findings.is_narrow(),
        "objections": objections,
        "apex": {
            "forward_mm": of(apex.at.forward, apex.forward_error),
            "left_mm": of(apex.at.left, apex.left_error),
            "ellipse": ellipse(&apex.ellipse),
        },
        "apex_angle_deg": angle(&findings.apex_angle),
        "shape": match roundness.shape {
            Shape::Sharp => "sharp",
            Shape::Rounded => "rounded",
            Shape::Unclear => "unclear",
        },
        "apex_radius_mm": {
            "value": roundness.radius.mm(),
            "low_95_percent": roundness.interval.0.mm(),
            "high_95_percent": roundness.interval.1.mm(),
        },
        "second_apex": second,
        "asymmetry": {
            "difference_deg": angle(&findings.asymmetry.difference),
            "middle_deg": angle(&findings.asymmetry.middle),
        },
        "protrusive_misses_by_mm": length(&findings.protrusive_misses_by),
        "radius_mm": findings.radius.mm(),
        "legs": legs,
        "over": report.over.as_ref().map(over),
    })
}

fn objection(objection: &Objection) -> Value {
    json!({"name": objection_name(objection), "message": objection_text(objection)})
}

fn angle(estimate: &Estimate<Angle>) -> Value {
    json!({"value": exact(estimate.value.degrees()), "standard_error": estimate.standard_error.degrees()})
}

fn length(estimate: &Estimate<Length>) -> Value {
    json!({"value": exact(estimate.value.mm()), "standard_error": estimate.standard_error.mm()})
}

fn ellipse(ellipse: &Ellipse) -> Value {
    json!({"greater_sd_mm": ellipse.greater.mm(), "lesser_sd_mm": ellipse.lesser.mm(),
        "direction_deg": exact(ellipse.direction.degrees())})
}

fn leg(leg: &LegFindings) -> Value {
    let meets = leg.meets.map(|meets| {
        json!({"forward_mm": exact(meets.at.forward.mm()), "left_mm": exact(meets.at.left.mm()),
            "ellipse": ellipse(&meets.ellipse)})
    });
    let (order, passes) = match leg.order {
        Order::Once => ("once", Some(1)),
        Order::Retraced { passes } => ("retraced", Some(passes)),
        Order::Mixed => ("mixed", None),
    };
    json!({
        "name": leg.leg.name(),
        "tangent_deg": angle(&leg.tangent),
        "chord_deg": leg.chord.as_ref().map(angle),
        "bend_deg": leg.bend.as_ref().map(angle),
        "meets": meets,
        "points": {"given": leg.given, "used": leg.used, "repeated": leg.repeated, "set_aside": leg.set_aside},
        "order": order,
        "passes": passes,
        "fitted_from_mm": leg.range.from.mm(),
        "fitted_to_mm": leg.range.to.mm(),
        "scatter_mm": leg.scatter.mm(),
        "two_lines_apart_mm": leg.two_lines.as_ref().map(length),
    })
}

fn over(over: &Over) -> Value {
    let apart = |apart: &Apart| json!({"rms_mm": apart.rms.mm(), "greatest_mm": apart.greatest.mm(), "points": apart.points});
    let points = |points: &[PlatePoint]| {
        points
            .iter()
            .map(|point| json!([exact(point.forward.mm()), exact(point.left.mm())]))
            .collect::<Vec<_>>()
    };
    let legs: Vec<Value> = sim_core::tracing::Leg::ALL
        .into_iter()
        .zip(&over.overlay.legs)
        .map(|(leg, distances)| {
            json!({"name": leg.name(), "apart": distances.as_ref().map(apart),
                "drawn_forward_left_mm": points(over.drawn.leg(leg))})
        })
        .collect();
    json!({
        "title": over.title,
        "stylus_mm": [over.stylus.x(), over.stylus.y(), over.stylus.z()],
        "apart": over.overlay.whole.as_ref().map(apart),
        "turn_deg": exact(over.overlay.turn.degrees()),
        "apart_after_turn": over.overlay.turned.as_ref().map(apart),
        "legs": legs,
    })
}
