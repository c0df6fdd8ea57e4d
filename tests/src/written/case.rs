//! Cases with every mounting, record, pose and guidance.

use proptest::collection::vec;
use proptest::prelude::*;
use sim_core::record::{
    CanineGuidance, Case, CaseCasts, CuspPlace, GrooveGaps, GuideHold, IncisalGuidance, LandmarkFields,
    MountingFields, PoseFields, RecordFields, RecordKind, ScaleReadings, ScanPlace, SideFields, TrialAngles,
};

use super::plan::plan;
use super::scene::{anterior_guide, cast_unit};
use super::{maybe, mm, mounting, name, place, text, transform};
use crate::patient::{CENTRIC, LEFT, PROTRUSIVE, RIGHT, millimetres};
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
    let by_pose = (kind, pose(landmarks), maybe(any::<bool>()))
        .prop_map(|(kind, pose, perforated)| kind(PoseFields { perforated, ..pose }))
        .boxed();
    if grooves == 0 {
        return vec(prop_oneof![2 => by_pose, 1 => scale_readings()].boxed(), 1..5);
    }
    let by_gaps = vec(0.0..20.0, grooves).prop_map(|gaps| {
        RecordFields::Centric(PoseFields { groove_gaps_mm: Some(gaps), ..PoseFields::default() })
    });
    vec(
        prop_oneof![3 => by_pose, 1 => by_gaps, 1 => scale_readings(), 2 => groove_gaps(grooves)].boxed(),
        1..5,
    )
}

fn scale_readings() -> impl Strategy<Value = RecordFields> {
    let kind = prop_oneof![
        Just(RecordKind::Protrusive),
        Just(RecordKind::RightLateral),
        Just(RecordKind::LeftLateral)
    ];
    (kind, vec(-30.0..60.0, 1..4), vec(-30.0..60.0, 1..4), 0.1..5.0, maybe(any::<bool>())).prop_map(
        |(record, right_deg, left_deg, graduation_deg, perforated)| {
            let (right_deg, left_deg) = match record {
                RecordKind::RightLateral => (Vec::new(), left_deg),
                RecordKind::LeftLateral => (right_deg, Vec::new()),
                RecordKind::Centric | RecordKind::Protrusive => (right_deg, left_deg),
            };
            RecordFields::ScaleReadings(ScaleReadings {
                record,
                right_deg,
                left_deg,
                graduation_deg,
                perforated,
            })
        },
    )
}

fn groove_gaps(grooves: usize) -> impl Strategy<Value = RecordFields> {
    let kind = prop_oneof![
        Just(RecordKind::Centric),
        Just(RecordKind::Protrusive),
        Just(RecordKind::RightLateral),
        Just(RecordKind::LeftLateral)
    ];
    let set_at = (-30.0..85.0, -30.0..85.0, -30.0..60.0, -30.0..60.0).prop_map(
        |(right_deg, left_deg, right_lateral, left_lateral)| TrialAngles {
            right_deg,
            left_deg,
            right_lateral_deg: Some(right_lateral),
            left_lateral_deg: Some(left_lateral),
        },
    );
    let read = (vec(0.0..20.0, grooves), maybe(vec(-20.0..20.0, grooves)), mm(0.01, 5.0));
    let advance = maybe((mm(0.0, 9.0), mm(0.0, 9.0)).prop_map(|(right, left)| SideFields { right, left }));
    (kind, set_at, read, advance, prop_oneof![Just(0.0), 0.0..30.0], maybe(any::<bool>())).prop_map(
        |(record, set_at, (gaps_mm, aside_mm, sd_mm), advance_mm, opening_deg, perforated)| {
            let aside_mm = aside_mm.filter(|_| record.orbiting().is_some());
            RecordFields::GrooveGaps(GrooveGaps {
                record,
                set_at,
                gaps_mm,
                aside_mm,
                sd_mm,
                advance_mm,
                opening_deg,
                perforated,
            })
        },
    )
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
    let bench =
        (any::<bool>(), any::<bool>(), maybe(prop_oneof![Just(GuideHold::Track), Just(GuideHold::Open)]));
    (head, sides, guides, seen(), points, maybe(casts()), maybe(plan(Vec::new())), bench).prop_map(
        |(head, immediate_translation_mm, guides, seen, points, casts, plan, bench)| {
            let (title, design, intercondylar_distance_mm, mounting, sd_mm, split_cast_tolerance_mm) = head;
            let (in_centric_mm, split_cast_grooves_mm, records) = seen;
            let (incisal_point_mm, occlusal_plane_mm, cusps) = points;
            let (anterior_guide, incisal_guidance) = guides;
            let (in_the_instrument, is_scanned, guide_hold) = bench;
            let (grooves_mm, split_cast_grooves_mm) =
                if in_the_instrument { (split_cast_grooves_mm, None) } else { (None, split_cast_grooves_mm) };
            let by_landmarks =
                |record: &RecordFields| record.pose().is_some_and(|pose| pose.lower_landmarks_mm.is_some());
            let is_scanned = is_scanned || records.iter().any(by_landmarks);
            let of_the_case = SideFields { right: sd_mm, left: sd_mm };
            // A mounting by name has no axis points to take the distance from.
            let intercondylar_distance_mm = match mounting {
                MountingFields::Named { .. } => intercondylar_distance_mm.or(Some(millimetres(110.0))),
                MountingFields::FaceBow { .. } | MountingFields::Average { .. } => intercondylar_distance_mm,
            };
            Case {
                title,
                design,
                intercondylar_distance_mm,
                mounting,
                lower_landmarks: is_scanned.then_some(LandmarkFields { in_centric_mm, sd_mm }),
                records,
                immediate_translation_mm,
                split_cast_tolerance_mm,
                split_cast_grooves_mm,
                grooves_mm,
                advance_mm: Some(of_the_case),
                guide_hold,
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
