//! Cases with every mounting, record, pose and guidance.

use proptest::collection::vec;
use proptest::prelude::*;
use sim_core::record::{
    CanineGuidance, Case, CaseCasts, CuspPlace, IncisalGuidance, LandmarkFields, PoseFields, RecordFields,
    ScanPlace, SideFields,
};

use super::plan::plan;
use super::scene::{anterior_guide, cast_unit};
use super::{maybe, mm, mounting, name, place, text, transform};
use crate::patient::{CENTRIC, LEFT, PROTRUSIVE, RIGHT};
use crate::random;

fn pose(landmarks: usize) -> impl Strategy<Value = PoseFields> {
    prop_oneof![
        vec(place(), landmarks)
            .prop_map(|seen| PoseFields { lower_landmarks_mm: Some(seen), ..PoseFields::default() }),
        transform().prop_map(|rows| PoseFields { transform: Some(rows), ..PoseFields::default() }),
    ]
}

fn records(landmarks: usize, grooves: usize) -> impl Strategy<Value = Vec<RecordFields>> {
    let kind = prop_oneof![Just(CENTRIC), Just(PROTRUSIVE), Just(RIGHT), Just(LEFT)];
    let by_pose = (kind, pose(landmarks)).prop_map(|(kind, pose)| kind(pose)).boxed();
    let by_gaps = vec(0.0..20.0, grooves).prop_map(|gaps| {
        RecordFields::Centric(PoseFields { groove_gaps_mm: Some(gaps), ..PoseFields::default() })
    });
    let record = if grooves == 0 { by_pose } else { prop_oneof![3 => by_pose, 1 => by_gaps].boxed() };
    vec(record, 1..5)
}

fn cusp() -> impl Strategy<Value = CuspPlace> {
    (random::cusp(), name(), place()).prop_map(|(cusp, name, at_mm)| CuspPlace {
        tooth: cusp.tooth(),
        name,
        at_mm,
        opposing: *cusp.opposing(),
    })
}

fn casts() -> impl Strategy<Value = CaseCasts> {
    (text(), text(), maybe(cast_unit())).prop_map(|(upper, lower, unit)| CaseCasts { upper, lower, unit })
}

fn canine() -> impl Strategy<Value = CanineGuidance> {
    (mm(0.0, 10.0), mm(0.0, 10.0)).prop_map(|(rise_mm, outward_mm)| CanineGuidance { rise_mm, outward_mm })
}

fn incisal_guidance() -> impl Strategy<Value = IncisalGuidance> {
    (mm(0.0, 10.0), mm(0.0, 10.0), maybe(canine()), maybe(canine()), any::<bool>()).prop_map(
        |(vertical_overlap_mm, horizontal_overlap_mm, right_canine, left_canine, wings_from_records)| {
            IncisalGuidance {
                vertical_overlap_mm,
                horizontal_overlap_mm,
                right_canine,
                left_canine,
                wings_from_records,
            }
        },
    )
}

/// Landmarks, grooves, and records that go with them.
fn seen() -> impl Strategy<Value = (Vec<ScanPlace>, Option<Vec<ScanPlace>>, Vec<RecordFields>)> {
    (3..6_usize, prop_oneof![Just(0), 1..7_usize]).prop_flat_map(|(landmarks, grooves)| {
        let places = vec(place(), grooves).prop_map(|places| (!places.is_empty()).then_some(places));
        (vec(place(), landmarks), places, records(landmarks, grooves))
    })
}

/// Any case.
pub fn case() -> impl Strategy<Value = Case> {
    let head = (text(), random::design(), maybe(mm(60.0, 180.0)), mounting(), mm(0.0, 5.0), mm(0.0, 5.0));
    let sides = (mm(0.0, 5.0), mm(0.0, 5.0)).prop_map(|(right, left)| SideFields { right, left });
    let sides = prop_oneof![Just(SideFields::default()), sides];
    let guides = prop_oneof![
        Just((None, None)),
        anterior_guide().prop_map(|guide| (Some(guide), None)),
        incisal_guidance().prop_map(|guidance| (None, Some(guidance))),
    ];
    let points = (maybe(place()), maybe(vec(place(), 3)), vec(cusp(), 0..3));
    (head, sides, guides, seen(), points, maybe(casts()), maybe(plan(Vec::new()))).prop_map(
        |(head, immediate_translation_mm, guides, seen, points, casts, plan)| {
            let (title, design, intercondylar_distance_mm, mounting, sd_mm, split_cast_tolerance_mm) = head;
            let (in_centric_mm, split_cast_grooves_mm, records) = seen;
            let (incisal_point_mm, occlusal_plane_mm, cusps) = points;
            let (anterior_guide, incisal_guidance) = guides;
            Case {
                title,
                design,
                intercondylar_distance_mm,
                mounting,
                lower_landmarks: LandmarkFields { in_centric_mm, sd_mm },
                records,
                immediate_translation_mm,
                split_cast_tolerance_mm,
                split_cast_grooves_mm,
                incisal_point_mm,
                occlusal_plane_mm,
                cusps,
                anterior_guide,
                incisal_guidance,
                casts,
                plan,
            }
        },
    )
}
