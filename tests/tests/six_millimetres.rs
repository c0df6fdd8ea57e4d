//! Six millimetres are six millimetres of the tracing: held to a closed form of level rims, and to the
//! projection written out by its two directions.

use nalgebra::Vector3;
use proptest::prelude::*;
use sim_core::anterior::{AnteriorGuide, Trough};
use sim_core::excursion::{Drive, Excursion, Mechanism, Movement, Obstacle, Placement, SampleCount, Station};
use sim_core::frame::{JawPose, OcclusalPlane, Side};
use sim_core::guide::CondylarGuide;
use sim_core::instrument::{IncisalPoint, Instrument};
use sim_core::record::Case;
use sim_core::record::program::Programmed;
use sim_core::record::warning::Warning;
use sim_core::scene::Scene;
use sim_core::units::{Angle, Length};
use whole_checks::definition::matrix;
use whole_checks::random;
use whole_checks::tolerance::SOLVED;

const INCISAL_MM: (f64, f64, f64) = (92.0, 0.0, -34.0);
/// A pose is searched to 1e-12 mm of advance, and its places are some hundred millimetres long.
const SEARCHED_MM: f64 = 1e-10;

/// Level rims whose front edges glide on each other, between guides of an inclination.
fn level_rims(inclination_deg: f64) -> Mechanism {
    let mut instrument = Instrument::zeroed();
    for side in Side::BOTH {
        *instrument.guide_mut(side) =
            CondylarGuide::straight(Angle::from_degrees(inclination_deg), Angle::from_degrees(15.0));
    }
    instrument.anterior_guide = AnteriorGuide::Incisors(Trough::LEVEL);
    instrument.incisal_point = IncisalPoint::mm(INCISAL_MM.0, INCISAL_MM.1, INCISAL_MM.2);
    Mechanism::new(&instrument).with_occlusal_plane(level())
}

fn level() -> OcclusalPlane {
    OcclusalPlane { inclination: Angle::ZERO }
}

/// The advance at which level rims have gone so far: the edge has gone d forward at its own height and
/// is as far from the axis as it was, (x + d − a)² + (z + a tan H)² = x² + z².
fn advance_of_level_rims(distance_mm: f64, inclination_deg: f64) -> f64 {
    let (x, z, slope) = (INCISAL_MM.0 + distance_mm, INCISAL_MM.2, inclination_deg.to_radians().tan());
    let (square, half) = (1.0 + slope * slope, x - z * slope);
    let rest = x * x - INCISAL_MM.0 * INCISAL_MM.0;
    (half - (half * half - square * rest).sqrt()) / square
}

/// A case of one protrusive record, whose scan lies as the instrument does.
fn case_of(jaw: &JawPose) -> Case {
    let rows = matrix(jaw);
    let row =
        |at: usize| (0..4).map(|column| format!("{:?}", rows[(at, column)])).collect::<Vec<_>>().join(", ");
    Case::from_ron(&format!(
        "(title: \"Level rims (invented)\", design: Arcon, intercondylar_distance_mm: 110.0, \
         mounting: FaceBow(right_axis_mm: (0, -55, 0), left_axis_mm: (0, 55, 0), anterior_reference_mm: (85, 0, 0)), \
         lower_landmarks: (in_centric_mm: [(90, 0, -34), (52, 27, -34), (52, -27, -34)], sd_mm: 0.05), \
         incisal_point_mm: {INCISAL_MM:?}, occlusal_plane_mm: [(90, 0, -34), (52, 27, -34), (52, -27, -34)], \
         records: [Protrusive(transform: (({}), ({}), ({}), ({})))])",
        row(0),
        row(1),
        row(2),
        row(3),
    ))
    .expect("a case")
}

fn programmed(mechanism: &Mechanism, distance_mm: f64) -> (Placement, Case, Programmed) {
    let taken =
        mechanism.at_tracing_distance(Movement::Protrusive, Length::from_mm(distance_mm)).expect("a pose");
    let case = case_of(&taken.jaw);
    let done = case.program().expect("settings");
    (taken, case, done)
}

fn is_called_short(done: &Programmed) -> bool {
    done.warnings.iter().any(|warning| matches!(warning, Warning::ShortProtrusion { .. }))
}

#[test]
fn a_record_taken_at_six_millimetres_of_the_tracing_is_not_short_although_its_condyles_advance_less() {
    // By hand, to a hundredth.
    let by_hand = [(20.0, 5.31), (25.0, 5.15), (30.0, 4.99), (35.0, 4.82), (40.0, 4.65), (45.0, 4.47)];
    for (inclination, advance) in by_hand {
        let (taken, case, done) = programmed(&level_rims(inclination), 6.0);
        assert!((taken.advance().mm() - advance).abs() < 0.005, "{inclination}°: {:?}", taken.advance());
        let apart = taken.advance().mm() - advance_of_level_rims(6.0, inclination);
        assert!(apart.abs() < SEARCHED_MM, "{inclination}°: {apart} mm");
        let told = case.record_distances(&done).expect("distances")[0].expect("a protrusion");
        assert!((told.mm() - 6.0).abs() < SOLVED, "{inclination}°: {told:?}");
        assert!(!is_called_short(&done), "{inclination}°: {:?}", done.warnings);
    }
}

#[test]
fn a_record_is_short_below_five_millimetres_and_the_warning_tells_the_tracing_and_both_condyles() {
    for (distance, short) in [(4.9, true), (4.99, true), (5.0, false), (5.1, false)] {
        let (taken, _, done) = programmed(&level_rims(35.0), distance);
        assert_eq!(is_called_short(&done), short, "{distance} mm");
        for warning in &done.warnings {
            let Warning::ShortProtrusion { record: 0, distance: told, right, left } = warning else {
                continue;
            };
            assert!((told.mm() - distance).abs() < SOLVED);
            assert!((*right - taken.right.advance).mm().abs() < SOLVED);
            assert!((*left - taken.left.advance).mm().abs() < SOLVED);
        }
    }
}

#[test]
fn a_case_whose_plane_is_no_plane_is_told_so_and_not_left_unjudged() {
    let (_, mut in_line, _) = programmed(&level_rims(35.0), 6.0);
    let plane = in_line.occlusal_plane_mm.as_mut().expect("a plane");
    plane[1] = plane[0];
    let error = in_line.program().expect_err("no plane").to_string();
    assert!(error.starts_with("occlusal_plane_mm: the points lie within 5 mm of one line"), "{error}");
}

/// The way from rest as the plane's two directions have it.
fn by_directions(plane: OcclusalPlane, way: &Vector3<f64>) -> f64 {
    let iota = plane.inclination.radians();
    let forward = way.x * iota.cos() - way.z * iota.sin();
    forward.hypot(way.y)
}

#[test]
fn samples_of_an_excursion_driven_by_the_tracing_are_even_along_the_plane() {
    let scene = Scene::from_ron(include_str!("../../scenes/curved_paths.ron")).expect("a scene");
    let excursion = Excursion::new(Movement::Protrusive, Drive::Tracing(Length::from_mm(6.0))).expect("one");
    assert!(scene.excursions.contains(&excursion));
    let count = SampleCount::new(7).expect("a count");
    let motion = scene.mechanism().motion(&excursion, count);
    assert_eq!(motion.stopped(), None);
    let rest = motion.placements()[0].incisal_point;
    for (placed, wanted) in motion.placements().iter().zip([0.0, 1.0, 2.0, 3.0, 4.0, 5.0, 6.0]) {
        let gone = by_directions(scene.occlusal_plane, &(placed.incisal_point - rest));
        assert!((gone - wanted).abs() < SEARCHED_MM, "{gone} of {wanted}");
    }
    // In a straight line the point has then gone farther: it has gone down, too.
    let last = motion.placements().last().expect("the end").incisal_point;
    assert!(last.distance_mm(&rest) > 6.5);
    // The same excursion on a bare instrument says what it lacks, and does not take a plane of its own.
    let bare = Mechanism::new(&scene.instrument).motion(&excursion, count);
    assert_eq!(bare.stopped().expect("no plane").obstacle, Obstacle::NoOcclusalPlane);
}

#[test]
fn a_mechanism_without_a_plane_says_that_it_has_none() {
    let bare = Mechanism::new(&Instrument::zeroed());
    let refused = bare.at_tracing_distance(Movement::Protrusive, Length::from_mm(3.0)).unwrap_err();
    assert_eq!(refused.obstacle, Obstacle::NoOcclusalPlane);
}

proptest! {
    #![proptest_config(random::cases(256))]

    #[test]
    fn the_pose_at_a_distance_has_gone_so_far_along_the_plane_and_no_earlier_one_has(
        instrument in random::instrument(), movement in random::movement(), plane in random::occlusal_plane(),
        wanted in 0.05..6.0_f64,
    ) {
        let mechanism = Mechanism::new(&instrument).with_occlusal_plane(plane);
        let rest = mechanism.rest().unwrap().incisal_point;
        // A path may end, or turn back, before the point is so far.
        let Ok(found) = mechanism.at_tracing_distance(movement, Length::from_mm(wanted)) else { return Ok(()) };
        let gone = |placed: &Placement| by_directions(plane, &(placed.incisal_point - rest));
        prop_assert!((gone(&found) - wanted).abs() <= SEARCHED_MM, "{} of {wanted}", gone(&found));
        // The station is the first of those that strides of a millimetre can tell apart.
        let start = mechanism.travel(movement, Length::ZERO).start().parameter();
        for earlier in (1..100_u32).map(|stride| start + f64::from(stride)) {
            if earlier >= found.station.parameter() {
                break;
            }
            let placed = mechanism.at(movement, Station::from_parameter(earlier)).unwrap();
            prop_assert!(gone(&placed) <= wanted);
        }
        // A plate shows no more than the whole way.
        prop_assert!(gone(&found) <= found.incisal_point.distance_mm(&rest) + SOLVED);
    }
}
