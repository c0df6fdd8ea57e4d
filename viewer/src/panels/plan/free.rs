//! What may be changed, and within which bounds.

use kiss3d::egui::{Grid, RichText, Ui};
use sim_core::plan::{AngleRange, CurveRange, Factor, Free, Moulds};

use super::fields::{degrees, number, weight};
use crate::panels::output::PanelOutput;
use crate::panels::text::{heads, title};
use crate::planning::{Draft, GoalKind, first_bounds};

/// Steepest mould that a plan takes, in degrees.
const STEEPEST_MOULD_DEG: f64 = 60.0;

/// What a goal may change, and whether from a list of moulds.
const FOR_DISCLUSION: &[(Factor, bool)] = &[
    (Factor::IncisalGuidance, false),
    (Factor::LateralIncisalGuidance, false),
    (Factor::RightLateralIncisalGuidance, false),
    (Factor::LeftLateralIncisalGuidance, false),
    (Factor::CondylarGuidance, false),
    (Factor::CuspInclination, false),
];
const FOR_BALANCE: &[(Factor, bool)] = &[
    (Factor::CondylarGuidance, false),
    (Factor::IncisalGuidance, false),
    (Factor::LateralIncisalGuidance, false),
    (Factor::RightLateralIncisalGuidance, false),
    (Factor::LeftLateralIncisalGuidance, false),
    (Factor::OcclusalPlane, false),
    (Factor::CompensatingCurve, false),
    (Factor::CuspInclination, false),
    (Factor::CuspInclination, true),
];

pub(super) fn show(ui: &mut Ui, draft: &mut Draft, output: &mut PanelOutput) {
    let (factors, unnamed) = match draft.kind {
        GoalKind::None => return,
        GoalKind::Disclusion => {
            (FOR_DISCLUSION, "If none is chosen: incisal guidance 0° to 60°, lateral 0° to 45°")
        }
        GoalKind::Balance => (FOR_BALANCE, "If none is chosen: cusp inclination 0° to 60°"),
    };
    let Some(free) = draft.free() else { return };
    title(ui, "Settings that may change");
    if free.is_empty() {
        ui.label(RichText::new(unnamed).small());
    }
    Grid::new("free").num_columns(4).spacing([6.0, 2.0]).show(ui, |ui| {
        heads(ui, &["", "least", "most", "weight"]);
        for (factor, of_moulds) in factors.iter().copied() {
            line(ui, free, factor, of_moulds, output);
            ui.end_row();
        }
    });
    for change in free {
        if let Free::CuspMould(moulds) = change {
            mould_list(ui, moulds, output);
        }
    }
}

fn line(ui: &mut Ui, free: &mut Vec<Free>, factor: Factor, of_moulds: bool, output: &mut PanelOutput) {
    let is_it =
        |change: &Free| change.factor() == factor && matches!(change, Free::CuspMould(_)) == of_moulds;
    let place = free.iter().position(is_it);
    let mut is_free = place.is_some();
    let label = match (factor, of_moulds) {
        (_, true) => "cusp inclination of moulds",
        (Factor::RightLateralIncisalGuidance, _) => "right lateral alone",
        (Factor::LeftLateralIncisalGuidance, _) => "left lateral alone",
        _ => factor.label(),
    };
    let key = label.replace(' ', "_");
    let tick = ui.checkbox(&mut is_free, RichText::new(label).small());
    output.note(format!("free={key}"), &tick);
    if tick.changed() {
        match place {
            Some(place) => drop(free.remove(place)),
            None => free.extend(first_bounds(factor, of_moulds)),
        }
        return;
    }
    let Some(change) = place.and_then(|place| free.get_mut(place)) else { return };
    match change {
        Free::CondylarGuidance(range)
        | Free::IncisalGuidance(range)
        | Free::LateralIncisalGuidance(range)
        | Free::RightLateralIncisalGuidance(range)
        | Free::LeftLateralIncisalGuidance(range)
        | Free::OcclusalPlane(range)
        | Free::CuspInclination(range) => {
            number(ui, &mut range.least, &AngleRange::LEAST.facts, format!("least={key}"), output);
            number(ui, &mut range.most, &AngleRange::MOST.facts, format!("most={key}"), output);
            weight(ui, &mut range.weight, format!("weight={key}"), output);
        }
        Free::CompensatingCurve(range) => {
            let radius = &CurveRange::LEAST_RADIUS.facts;
            number(ui, &mut range.least_radius, radius, format!("least={key}"), output);
            ui.label(RichText::new("mm radius").small());
            weight(ui, &mut range.weight, format!("weight={key}"), output);
        }
        Free::CuspMould(moulds) => {
            ui.label("");
            ui.label("");
            weight(ui, &mut moulds.weight, format!("weight={key}"), output);
        }
    }
}

/// The inclinations that moulds are made with.
fn mould_list(ui: &mut Ui, moulds: &mut Moulds, output: &mut PanelOutput) {
    ui.horizontal_wrapped(|ui| {
        ui.label(RichText::new("moulds available").small());
        for (place, inclination) in moulds.inclinations_deg.iter_mut().enumerate() {
            degrees(ui, inclination, STEEPEST_MOULD_DEG, format!("mould={place}"), output);
        }
        let more = ui.small_button("add");
        output.note("mould_add", &more);
        if more.clicked() {
            let last = moulds.inclinations_deg.last().copied();
            moulds.inclinations_deg.push(last.unwrap_or(0.0));
        }
        let less = ui.small_button("remove");
        output.note("mould_remove", &less);
        if less.clicked() {
            moulds.inclinations_deg.pop();
        }
    });
}
