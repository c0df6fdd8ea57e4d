//! Scenes with every guide, path, excursion, cast and plan.

use proptest::collection::vec;
use proptest::prelude::*;
use proptest::sample::select;
use sim_core::anterior::{AnteriorGuide, HeightField};
use sim_core::cast::CastUnit;
use sim_core::cast::invented::{ArchForm, CastKind, InventedCasts};
use sim_core::cusp::Cusp;
use sim_core::excursion::{Drive, Excursion, Movement, SampleCount};
use sim_core::guide::GuidePath;
use sim_core::instrument::{Baseline, Instrument};
use sim_core::plan::{Free, Goal, Plan};
use sim_core::scene::{CastFiles, Scene};
use sim_core::tracing::{Member, TracerFields};
use sim_core::units::Length;

use super::plan::plan;
use super::{curve, maybe, mounting, name, text};
use crate::random::{self, angle, length};

fn height_field() -> impl Strategy<Value = HeightField> {
    let rows = (2..4_usize).prop_flat_map(|columns| vec(vec(-60.0..60.0, columns), 2..4));
    ([-80.0..80.0, -80.0..80.0], 0.05..5.0, rows)
        .prop_map(|(corner, step, rows)| HeightField::new(corner, step, &rows).expect("a table"))
}

pub(super) fn anterior_guide() -> impl Strategy<Value = AnteriorGuide> {
    prop_oneof![
        random::trough().prop_map(AnteriorGuide::Table),
        random::trough().prop_map(AnteriorGuide::Incisors),
        random::trough().prop_map(AnteriorGuide::Casts),
        height_field().prop_map(AnteriorGuide::CustomTable),
    ]
}

fn instrument() -> impl Strategy<Value = Instrument> {
    (random::instrument(), anterior_guide(), length(-10.0, 10.0)).prop_map(
        |(instrument, anterior_guide, pin)| {
            let has_pin = anterior_guide.has_pin();
            let pin_extension = if has_pin { pin } else { Length::ZERO };
            Instrument { anterior_guide, pin_extension, ..instrument }
        },
    )
}

pub(super) fn excursion() -> impl Strategy<Value = Excursion> {
    let drive = prop_oneof![
        length(0.001, 30.0).prop_map(Drive::Advance),
        length(0.001, 30.0).prop_map(Drive::IncisalDisplacement),
        length(0.001, 30.0).prop_map(Drive::Tracing)
    ];
    prop_oneof![
        4 => (random::movement(), drive),
        1 => angle(0.001, 30.0).prop_map(|angle| (Movement::Opening, Drive::Opening(angle))),
    ]
    .prop_map(|(movement, drive)| Excursion::new(movement, drive).expect("an excursion"))
}

pub(super) fn cast_unit() -> impl Strategy<Value = CastUnit> {
    select(vec![CastUnit::Millimetre, CastUnit::Centimetre, CastUnit::Metre, CastUnit::Inch])
}

fn cast_files() -> impl Strategy<Value = CastFiles> {
    (text(), text(), maybe(cast_unit()), maybe(mounting()))
        .prop_map(|(upper, lower, unit, mounting)| CastFiles { upper, lower, unit, mounting })
}

fn invented_casts() -> impl Strategy<Value = InventedCasts> {
    let front =
        (length(0.0, 5.0), length(1.0, 6.0), length(0.0, 3.0), length(60.0, 120.0), length(-80.0, 0.0));
    let arch = (length(40.0, 70.0), length(25.0, 60.0), length(0.08, 1.5));
    let kind = select(vec![CastKind::Dentate, CastKind::CompleteDenture]);
    let form = select(vec![ArchForm::Ellipse, ArchForm::Catenary, ArchForm::Parabola]);
    (angle(0.0, 45.0), curve(), curve(), front, arch, kind, form).prop_map(
        |(cusp_angle, sagittal_curve_radius, transverse_curve_radius, front, arch, kind, arch_form)| {
            let (overbite, overjet, front_clearance, incisal_x, incisal_z) = front;
            let (arch_width, arch_length, fineness) = arch;
            InventedCasts {
                cusp_angle,
                sagittal_curve_radius,
                transverse_curve_radius,
                overbite,
                overjet,
                front_clearance,
                arch_width,
                arch_length,
                incisal_x,
                incisal_z,
                fineness,
                kind,
                arch_form,
            }
        },
    )
}

/// Cusps of which no two are of one name on one tooth.
fn cusps() -> impl Strategy<Value = Vec<Cusp>> {
    vec((random::cusp(), name()), 0..4).prop_map(|drawn| {
        let mut cusps: Vec<Cusp> = Vec::new();
        for (cusp, name) in drawn {
            let [x, y, z] = match cusp.tip() {
                sim_core::cusp::CuspTip::Lower(tip) => (*tip.coords()).into(),
                sim_core::cusp::CuspTip::Upper(tip) => (*tip.coords()).into(),
            };
            let named = Cusp::new(cusp.tooth(), &name, [x, y, z], *cusp.opposing()).expect("on its side");
            let same = |other: &Cusp| other.tooth() == named.tooth() && other.name() == named.name();
            if !cusps.iter().any(same) {
                cusps.push(named);
            }
        }
        cusps
    })
}

/// A plan as this instrument can take it: none on a formed table, and condylar guidance not free where a
/// path is recorded.
fn fitting(plan: Plan, instrument: &Instrument) -> Option<Plan> {
    let recorded = |path: &GuidePath| matches!(path, GuidePath::Profile(_));
    let is_recorded = recorded(&instrument.right_guide.path) || recorded(&instrument.left_guide.path);
    let mut plan = plan;
    if let Some(
        Goal::BalancedArticulation(sim_core::plan::Balance { free, .. })
        | Goal::Disclusion(sim_core::plan::Clearances { free, .. }),
    ) = &mut plan.goal
    {
        free.retain(|free| !(is_recorded && matches!(free, Free::CondylarGuidance(_))));
    }
    (!matches!(instrument.anterior_guide, AnteriorGuide::CustomTable(_))).then_some(plan)
}

fn tracer() -> impl Strategy<Value = TracerFields> {
    let place = || (20.0..200.0_f64, -60.0..60.0_f64, -100.0..50.0_f64);
    let flat = (20.0..200.0_f64, -60.0..60.0_f64);
    let size = (1.0..200.0_f64, 1.0..200.0_f64);
    let places = (maybe(place()), maybe(flat), maybe(place()), maybe(place()));
    let member = maybe(select(vec![Member::Lower, Member::Upper]));
    (member, places, maybe(-60.0..60.0_f64), maybe(size), maybe(0.0..20.0_f64)).prop_map(
        |(plate_on, (stylus_mm, plate_centre_mm, right_heel_mm, left_heel_mm), inclination, size, apart)| {
            TracerFields {
                plate_on,
                stylus_mm,
                plate_centre_mm,
                plate_inclination_deg: inclination,
                plate_size_mm: size,
                right_heel_mm,
                left_heel_mm,
                rims_apart_mm: apart,
            }
        },
    )
}

/// A scene's own baseline, with some parts left to the example.
fn baseline() -> impl Strategy<Value = Baseline> {
    (maybe(-30.0..85.0), maybe(-30.0..60.0), maybe(0.0..85.0), maybe(-30.0..30.0)).prop_map(
        |(h, l, wing, pin)| {
            let part = |key: &str, number: Option<f64>| number.map(|number| format!("{key}: {number:?}"));
            let parts: Vec<String> = [
                part("horizontal_inclination_deg", h),
                part("lateral_angle_deg", l),
                part("left_wing_deg", wing),
                part("pin_extension_mm", pin),
            ]
            .into_iter()
            .flatten()
            .collect();
            let written = format!("    baseline: ({}),\n    title:", parts.join(", "));
            let text = Scene::thirty_degree().to_ron().replacen("    title:", &written, 1);
            Scene::from_ron(&text).expect("a scene").baseline.expect("its baseline")
        },
    )
}

/// Any scene.
pub fn scene() -> impl Strategy<Value = Scene> {
    let body = (text(), instrument(), random::occlusal_plane(), vec(excursion(), 1..4), 2..1_000_000_000_i64);
    let plans = cusps().prop_flat_map(|cusps| (Just(cusps.clone()), maybe(plan(cusps))));
    let teeth = (0..3_u8, cast_files(), invented_casts());
    let body = (body, maybe(baseline()));
    // On the heap: so much in one value leaves a test's stack too little.
    (body.boxed(), plans.boxed(), teeth.boxed(), maybe(tracer()).boxed()).prop_map(
        |(
            ((title, instrument, occlusal_plane, excursions, samples), baseline),
            (cusps, plan),
            (which, files, invented),
            tracer,
        )| {
            // Where teeth guide there are some.
            let which = if matches!(instrument.anterior_guide, AnteriorGuide::Casts(_)) {
                which.max(1)
            } else {
                which
            };
            Scene {
                title,
                baseline,
                occlusal_plane,
                cusps,
                excursions,
                samples: SampleCount::new(samples).expect("a count"),
                casts: (which == 1).then_some(files),
                invented_casts: (which == 2).then_some(invented),
                tracer,
                plan: plan.and_then(|plan| fitting(plan, &instrument)),
                instrument,
            }
        },
    )
}
