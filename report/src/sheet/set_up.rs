//! How the instrument stands before anything is set, and what hands fill in.

use sim_core::plan::{Goal, Plan};
use sim_core::record::MountingFields;
use sim_core::scene::Scene;
use words::number::{as_set, length};

use crate::case::WorkedCase;

/// Room to write in.
pub(super) const NAME: &str = "______________________";
const NUMBER: &str = "________";

/// The set-up of a case, a line each.
pub(super) fn of_case(worked: &WorkedCase) -> Vec<String> {
    // Only the coordinates of a face-bow's anterior point are in a case, not what it is called.
    let reference = match worked.case.mounting {
        MountingFields::FaceBow { .. } => format!(": {NAME}"),
        MountingFields::Average { .. } | MountingFields::Named { .. } => ".".to_owned(),
    };
    vec![
        worked.mounting_words(),
        format!("{}{reference}", worked.reference_words()),
        pin(0.0),
        teeth(worked.case.plan.as_ref()),
    ]
}

/// The set-up of a scene.
pub(super) fn of_scene(scene: &Scene) -> Vec<String> {
    let instrument = &scene.instrument;
    vec![
        format!(
            "{} instrument, intercondylar distance {}.",
            instrument.design.name(),
            length(instrument.intercondylar_distance, 1)
        ),
        format!(
            "H is to the instrument's horizontal reference plane (the occlusal plane is at {}° to it); anterior \
             reference point: {NAME}",
            as_set(scene.occlusal_plane.inclination.degrees())
        ),
        pin(instrument.pin_extension.mm()),
        teeth(scene.plan.as_ref()),
    ]
}

fn pin(extension_mm: f64) -> String {
    let stands = match extension_mm {
        0.0 => "flush with its mark (0 mm)".to_owned(),
        let_down => format!("let down by {} mm", as_set(let_down)),
    };
    format!(
        "Incisal pin {stands}. Vertical dimension at the chair {NUMBER} mm; pin off its table after processing \
         {NUMBER} mm."
    )
}

/// Scheme and mould, as far as a plan says.
fn teeth(plan: Option<&Plan>) -> String {
    match plan.and_then(|plan| plan.goal.as_ref()) {
        Some(Goal::BalancedArticulation(goal)) => format!(
            "Scheme: balanced articulation. Mould: cusps of {}°; name {NAME}",
            as_set(goal.cusp_inclination.degrees())
        ),
        Some(Goal::Disclusion(_)) => {
            format!("Scheme: disclusion of the back teeth by the front ones. Mould or material: {NAME}")
        }
        None => format!("Scheme: {NAME}  Mould: {NAME}"),
    }
}

/// What is filled in by hand, a line each.
pub(super) fn by_hand() -> Vec<String> {
    vec![
        format!("Records taken by {NAME} on {NUMBER}____    Set by {NAME}    Checked by {NAME}"),
        "Before: at its baseline □  pin flush □  no side play □    After: guides locked □  pin flush □  split closed □"
            .to_owned(),
        format!(
            "At try-in, the settings against new records: centric □  protrusive □  right □  left □    by {NAME} on \
             {NUMBER}____"
        ),
    ]
}
