//! Instruments, movements and cusps drawn at random for property tests.

use proptest::collection::vec;
use proptest::prelude::*;
use proptest::test_runner::FileFailurePersistence;
use sim_core::anterior::{AnteriorGuide, Trough};
use sim_core::cusp::{Cusp, OpposingInclines, Tooth};
use sim_core::excursion::{Movement, Ratio};
use sim_core::frame::{OcclusalPlane, Side};
use sim_core::guide::{ArcPath, CondylarGuide, EarlyTranslation, GuidePath, Profile};
use sim_core::instrument::{Design, IncisalPoint, Instrument};
use sim_core::units::{Angle, Length};

use crate::patient::ScanFrame;

/// How many examples a law is tried on where each is quick.
pub const USUAL_CASES: u32 = 256;

/// How a law is tried: on so many examples, and as many times more as `PROPTEST_CASES` is more than
/// [`USUAL_CASES`]; one that breaks it is written beside the law's file, to be tried first from then on.
#[must_use]
pub fn cases(cases: u32) -> ProptestConfig {
    let beside = FileFailurePersistence::WithSource("proptest-regressions");
    let usual = ProptestConfig::default();
    let times = |count: u32| count.saturating_mul(usual.cases) / USUAL_CASES;
    ProptestConfig {
        cases: times(cases),
        max_global_rejects: times(usual.max_global_rejects),
        failure_persistence: Some(Box::new(beside)),
        ..usual
    }
}

/// Farthest advance at which every instrument drawn here has a pose.
pub const REACH_MM: f64 = 8.0;

/// An angle between two bounds in degrees.
pub fn angle(min: f64, max: f64) -> impl Strategy<Value = Angle> {
    (min..max).prop_map(Angle::from_degrees)
}

/// A length between two bounds in millimetres.
pub fn length(min: f64, max: f64) -> impl Strategy<Value = Length> {
    (min..max).prop_map(Length::from_mm)
}

/// A straight, arc or recorded path that reaches [`REACH_MM`].
pub fn path() -> impl Strategy<Value = GuidePath> {
    prop_oneof![
        Just(GuidePath::Straight),
        length(12.0, 60.0).prop_map(|radius| GuidePath::Arc(ArcPath { radius })),
        vec((1.5..3.0_f64, 0.1..2.0_f64), 5..8).prop_map(|steps| {
            let mut at = (0.0, 0.0);
            let mut points = vec![at];
            for (forward, down) in steps {
                at = (at.0 + forward, at.1 + down);
                points.push(at);
            }
            points.push((at.0 + 2.0, at.1 + 0.5));
            GuidePath::Profile(Profile::new(points).expect("advance grows"))
        }),
    ]
}

/// A condylar guide with every setting in use.
pub fn guide() -> impl Strategy<Value = CondylarGuide> {
    let angles =
        (angle(5.0, 60.0), angle(0.0, 30.0), angle(-10.0, 10.0), angle(-20.0, 20.0), angle(-20.0, 20.0));
    // One in three has no immediate translation, as most instruments have not.
    let immediate = prop_oneof![1 => Just(Length::ZERO), 2 => length(0.05, 1.0)];
    (angles, immediate, length(0.0, 1.5), length(2.0, 5.0), path()).prop_map(
        |(
            (horizontal_inclination, lateral_angle, wall_tilt, lateroretrusion, laterosurtrusion),
            immediate,
            amount,
            over,
            path,
        )| {
            CondylarGuide {
                immediate_translation: immediate,
                wall_tilt,
                lateroretrusion,
                laterosurtrusion,
                early_translation: EarlyTranslation { amount, over },
                path,
                ..CondylarGuide::straight(horizontal_inclination, lateral_angle)
            }
        },
    )
}

/// A trough with wings.
pub fn trough() -> impl Strategy<Value = Trough> {
    (angle(0.0, 50.0), angle(0.0, 30.0), angle(0.0, 30.0), length(0.0, 2.0)).prop_map(
        |(sagittal_inclination, right_wing, left_wing, flat_half_width)| Trough {
            sagittal_inclination,
            right_wing,
            left_wing,
            flat_half_width,
        },
    )
}

/// Either design.
pub fn design() -> impl Strategy<Value = Design> {
    prop_oneof![Just(Design::Arcon), Just(Design::NonArcon)]
}

/// An instrument with every setting in use but the pin, which is flush.
pub fn instrument() -> impl Strategy<Value = Instrument> {
    let anterior = (any::<bool>(), trough()).prop_map(|(table, trough)| {
        if table { AnteriorGuide::Table(trough) } else { AnteriorGuide::Incisors(trough) }
    });
    let point = (80.0..110.0, -2.0..2.0, -60.0..-25.0).prop_map(|(x, y, z)| IncisalPoint::mm(x, y, z));
    (design(), length(95.0, 125.0), guide(), guide(), anterior, point).prop_map(
        |(design, intercondylar_distance, right_guide, left_guide, anterior_guide, incisal_point)| {
            Instrument {
                design,
                intercondylar_distance,
                right_guide,
                left_guide,
                anterior_guide,
                incisal_point,
                pin_extension: Length::ZERO,
            }
        },
    )
}

/// An instrument as [`instrument`], its two sides alike.
pub fn symmetric_instrument() -> impl Strategy<Value = Instrument> {
    instrument().prop_map(|mut instrument| {
        instrument.left_guide = instrument.right_guide.clone();
        instrument.incisal_point.y = Length::ZERO;
        if let AnteriorGuide::Table(trough) | AnteriorGuide::Incisors(trough) = &mut instrument.anterior_guide
        {
            trough.left_wing = trough.right_wing;
        }
        instrument
    })
}

/// Any movement but the hinge opening.
pub fn movement() -> impl Strategy<Value = Movement> {
    let side = prop_oneof![Just(Side::Right), Just(Side::Left)];
    (0..3, side, 0.05..0.95_f64).prop_map(|(kind, working, ratio)| match kind {
        0 => Movement::Protrusive,
        1 => Movement::Lateral { working },
        _ => Movement::Lateroprotrusive { working, ratio: Ratio::new(ratio).expect("between 0 and 1") },
    })
}

/// An occlusal plane.
pub fn occlusal_plane() -> impl Strategy<Value = OcclusalPlane> {
    angle(-5.0, 20.0).prop_map(|inclination| OcclusalPlane { inclination })
}

/// A cusp of any back tooth of either arch.
pub fn cusp() -> impl Strategy<Value = Cusp> {
    let inclines = (angle(0.0, 45.0), angle(0.0, 45.0), angle(0.0, 45.0), angle(0.0, 45.0)).prop_map(
        |(protrusive, retrusive, working, nonworking)| OpposingInclines {
            protrusive,
            retrusive,
            working,
            nonworking,
        },
    );
    (1..5_i64, 4..9_i64, 40.0..80.0, 18.0..32.0, -45.0..-25.0, inclines).prop_map(
        |(quadrant, position, x, beside, z, inclines)| {
            let tooth = Tooth::new(quadrant * 10 + position).expect("a tooth number");
            Cusp::new(tooth, "buccal", [x, beside * tooth.side().outward_y(), z], inclines)
                .expect("on its side")
        },
    )
}

/// A jaw with straight untilted guides, as a record shows it: every angle can be read back.
pub fn straight_jaw() -> impl Strategy<Value = Instrument> {
    let side = || (angle(5.0, 60.0), angle(0.0, 30.0), prop_oneof![Just(Length::ZERO), length(0.05, 1.0)]);
    (instrument(), side(), side()).prop_map(|(mut jaw, right, left)| {
        for (side, (h, l, immediate_translation)) in Side::BOTH.into_iter().zip([right, left]) {
            *jaw.guide_mut(side) = CondylarGuide { immediate_translation, ..CondylarGuide::straight(h, l) };
        }
        jaw
    })
}

/// Any place that a scanner may have put a cast.
pub fn scan_frame() -> impl Strategy<Value = ScanFrame> {
    ([-3.0..3.0, -1.5..1.5, -1.5..1.5], [-200.0..200.0, -200.0..200.0, -200.0..200.0])
        .prop_map(|(turn, shift)| ScanFrame::new(turn, shift))
}
