//! A scene, a case and a study survive being written and read, whatever is in them.

use proptest::prelude::*;
use proptest::strategy::ValueTree as _;
use proptest::test_runner::TestRunner;
use sim_core::record::Case;
use sim_core::scene::Scene;
use sim_core::study::Study;
use whole_checks::random;
use whole_checks::written::{case, scene, study};

proptest! {
    #![proptest_config(random::cases(random::USUAL_CASES))]

    #[test]
    fn a_scene_is_read_as_it_was_written(scene in scene()) {
        let text = scene.to_ron();
        prop_assert_eq!(Scene::from_ron(&text), Ok(scene), "{}", text);
    }

    #[test]
    fn a_scene_on_one_line_is_one_line_and_is_read_as_it_was_written(scene in scene()) {
        let text = scene.to_ron_on_one_line();
        prop_assert!(!text.contains(['\n', '\r']), "{}", text);
        prop_assert_eq!(Scene::from_ron(&text), Ok(scene), "{}", text);
    }

    #[test]
    fn a_case_is_read_as_it_was_written(case in case()) {
        let text = case.to_ron();
        prop_assert_eq!(Case::from_ron(&text), Ok(case), "{}", text);
    }

    #[test]
    fn a_study_is_read_as_it_was_written(study in study()) {
        let text = study.to_ron();
        prop_assert_eq!(Study::from_ron(&text), Ok(study), "{}", text);
    }
}

/// Everything that the laws above are tried on, in one text.
fn all_written<T>(strategy: impl Strategy<Value = T>, write: impl Fn(&T) -> String) -> String {
    let mut runner = TestRunner::deterministic();
    let draw = |_| write(&strategy.new_tree(&mut runner).expect("a value").current());
    (0..random::USUAL_CASES).map(draw).collect()
}

/// The laws say nothing of a form that is never drawn.
#[test]
fn every_form_that_a_file_has_is_among_those_drawn() {
    let forms = |text: &str, words: &[&str]| {
        for word in words {
            assert!(text.contains(word), "no {word} is drawn");
        }
    };
    forms(
        &all_written(scene(), Scene::to_ron),
        &[
            "Arcon",
            "NonArcon",
            "Straight",
            "Arc(",
            "Profile(",
            "Table(",
            "Incisors(",
            "Casts(",
            "CustomTable(",
            "Protrusive(",
            "RightLateral(",
            "LeftLateral(",
            "RightLateroprotrusive(",
            "LeftLateroprotrusive(",
            "Opening(",
            "advance_mm",
            "incisal_displacement_mm",
            "tracing_mm",
            "casts:",
            "invented_casts:",
            "unit: Millimetre",
            "unit: Centimetre",
            "unit: Metre",
            "unit: Inch",
            "FaceBow(",
            "Average(",
            "Dentate",
            "CompleteDenture",
            "Ellipse",
            "Catenary",
            "Parabola",
            "tooth_axes",
            "behind_incisal_point_mm",
            "BalancedArticulation(",
            "Disclusion(",
            "AtLeast",
            "LeastSquares",
            "Working",
            "Orbiting",
            "CondylarGuidance(",
            " IncisalGuidance(",
            " LateralIncisalGuidance(",
            "RightLateralIncisalGuidance(",
            "LeftLateralIncisalGuidance(",
            "OcclusalPlane(",
            "CompensatingCurve(",
            "CuspInclination(",
            "CuspMould(",
            "weight: 1.0",
            "tracer: (",
            "plate_on: Upper",
        ],
    );
    forms(
        &all_written(case(), Case::to_ron),
        &[
            "FaceBow(",
            "Average(",
            "Named(",
            "Located",
            "Arbitrary(\"",
            "rods_mm",
            "ScaleReadings(",
            "GrooveGaps(",
            "aside_mm",
            "perforated: false",
            "    grooves_mm: [",
            "guide_hold: Open",
            "Centric(",
            "Protrusive(",
            "RightLateral(",
            "LeftLateral(",
            "lower_landmarks_mm",
            "transform",
            "groove_gaps_mm",
            "intercondylar_distance_mm",
            "split_cast_grooves_mm",
            "incisal_point_mm",
            "occlusal_plane_mm",
            "cusps",
            "anterior_guide",
            "incisal_guidance",
            "right_canine",
            "left_canine",
            "wings_from_records: true",
            "casts",
            "plan:",
        ],
    );
    forms(
        &all_written(study(), Study::to_ron),
        &[
            "scene: \"",
            "scene: (",
            "List(",
            "Range(",
            "Uniform(",
            "Normal(",
            "TruncatedNormal(",
            "Triangular(",
            "Published(",
            "Column(",
            "Derived(",
            "HOverEightPlusTwelve(",
            "Linear(",
            "LeftEqualsRight(",
            "Correlated(",
            "FullGrid",
            "OneAtATime",
            "LatinHypercube(",
            "Sobol(",
            "MonteCarlo(",
            "Indices(",
            "points: Sobol",
            "points: Random",
            "Separation",
            "Clearance",
            "Interference",
            "FirstInterference",
            "BennettMovement",
            "CondylarAdvance",
            "Opening",
            "Guidance",
            "IncisalPoint",
            "Pose",
            "advances_mm",
            "excursions",
            "cusps: [",
        ],
    );
}
