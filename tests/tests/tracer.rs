//! A tracer set up: what it draws and how far the rims stand apart, held to the pose by its definition
//! and to closed forms.

use nalgebra::Vector3;
use proptest::prelude::*;
use sim_core::anterior::{AnteriorGuide, Trough};
use sim_core::excursion::{Mechanism, Movement, Station};
use sim_core::frame::{OcclusalPlane, Side};
use sim_core::guide::CondylarGuide;
use sim_core::instrument::{Design, IncisalPoint, Instrument};
use sim_core::scene::Scene;
use sim_core::tracing::{LEAST_HEEL_GAP, Member, PlatePoint, TracerFields, TracingSetup, set_up};
use sim_core::units::{Angle, Length};
use whole_checks::definition::matrix;
use whole_checks::random;

/// A leg's end is searched to 1e-12 mm of advance; its places are some hundred millimetres long.
const SEARCHED_MM: f64 = 1e-9;
/// Advance from one pose to the next where a leg is followed by hand.
const STEP_MM: f64 = 0.005;

fn mm(length: f64) -> Length {
    Length::from_mm(length)
}

fn instrument(inclination_deg: f64) -> Instrument {
    let mut instrument = Instrument::zeroed();
    for side in Side::BOTH {
        *instrument.guide_mut(side) =
            CondylarGuide::straight(Angle::from_degrees(inclination_deg), Angle::from_degrees(15.0));
    }
    instrument
}

fn level() -> OcclusalPlane {
    OcclusalPlane { inclination: Angle::ZERO }
}

fn at(instrument: &Instrument, plane: OcclusalPlane, fields: &TracerFields) -> TracingSetup {
    let tracer = fields.completed(plane, &instrument.incisal_point);
    set_up(instrument, plane, &tracer, mm(6.0), mm(8.0)).expect("poses")
}

/// The advance of level rims whose bearing, at (x, z) from the axis and on the upper member, has gone d
/// back on a level plate of the lower one: seen from that member the axis has gone a back and a tan H
/// up, and the bearing stays as far from it, (x − d + a)² + (z − a tan H)² = x² + z².
fn advance(inclination_deg: f64, (x, z): (f64, f64), d: f64) -> f64 {
    let slope = inclination_deg.to_radians().tan();
    let (square, half) = (1.0 + slope * slope, (x - d) - z * slope);
    (-half + (half * half - square * (d * d - 2.0 * d * x)).sqrt()) / square
}

#[test]
fn in_protrusion_heels_open_by_the_closed_form_of_a_bearing_on_a_level_plate() {
    // On a non-arcon instrument the upper spheres run in housings of the lower member, so that the
    // condyles' way is read in the frame that the plate stands in.
    for inclination in [10.0, 25.0, 35.0, 45.0] {
        let mut instrument = instrument(inclination);
        instrument.design = Design::NonArcon;
        let setup = at(&instrument, level(), &TracerFields::default());
        let bearing = setup.tracer.stylus_mm;
        let a = advance(inclination, (bearing.x, bearing.z), 6.0);
        let slope = inclination.to_radians().tan();
        // Turned so that a line from the axis to the bearing, x ahead and z up, becomes this one.
        let (ahead, up) = (bearing.x - 6.0 + a, bearing.z - a * slope);
        let turn = up.atan2(ahead) - bearing.z.atan2(bearing.x);
        let (sin, cos) = turn.sin_cos();
        let protrusive = &setup.legs[0];
        assert!((protrusive.hole.forward.mm() + 6.0).abs() < SEARCHED_MM, "{:?}", protrusive.hole);
        let heel = setup.tracer.heels_mm[0];
        // The lower heel as the upper member sees it: back by the axis' way, then turned back.
        let (x, z) = (heel.x + a, heel.z - a * slope);
        let seen_up = -sin * x + cos * z;
        let gap = setup.tracer.rims_apart.mm() - (seen_up - heel.z);
        assert!(
            (protrusive.gaps.right_heel.mm() - gap).abs() < SEARCHED_MM,
            "{inclination}°: {gap} {protrusive:?}"
        );
        assert!((protrusive.gaps.left_heel.mm() - gap).abs() < SEARCHED_MM);
    }
}

#[test]
fn a_bearing_made_longer_by_what_is_told_gives_the_heels_just_what_they_want() {
    let told = |plate_on| {
        let fields =
            TracerFields { rims_apart_mm: Some(1.0), plate_on: Some(plate_on), ..TracerFields::default() };
        at(&instrument(30.0), level(), &fields)
    };
    let setup = told(Member::Lower);
    let longer = setup.lengthen.expect("some length does");
    assert!(longer.mm() > 1.0, "{longer:?}");
    // The bearing as a pin so much longer on a level table, followed by small steps of advance; the
    // way of each heel is read off the pose's matrix.
    let bearing = setup.tracer.stylus_mm;
    let guided = Instrument {
        anterior_guide: AnteriorGuide::Table(Trough::LEVEL),
        incisal_point: IncisalPoint::mm(bearing.x, bearing.y, bearing.z),
        pin_extension: longer,
        ..instrument(30.0)
    };
    let mechanism = Mechanism::new(&guided);
    let mut least = f64::INFINITY;
    for movement in [
        Movement::Protrusive,
        Movement::Lateral { working: Side::Right },
        Movement::Lateral { working: Side::Left },
    ] {
        let tip = Vector3::new(bearing.x, bearing.y, bearing.z - longer.mm()).push(1.0);
        let seen = |advance: f64| {
            let placed = mechanism.at(movement, Station::advanced(mm(advance))).expect("a pose");
            let jaw = matrix(&placed.jaw);
            ((jaw.try_inverse().expect("a pose can be inverted") * tip).xyz(), jaw)
        };
        let (rest, _) = seen(0.0);
        for step in 0..10_000 {
            let (mark, jaw) = seen(f64::from(step) * STEP_MM);
            if (mark - rest).xy().norm() > 6.0 {
                break;
            }
            for heel in setup.tracer.heels_mm {
                least = least.min(1.0 - ((jaw * heel.push(1.0)).xyz() - heel).z);
            }
        }
    }
    // A heel rises by less than the advance, so that a step's worth of it is the most that is missed.
    assert!((least - LEAST_HEEL_GAP.mm()).abs() < STEP_MM, "{least}");
    // On the other member the plate asks for nearly the same: the members' frames part by a few degrees.
    let upper = told(Member::Upper).lengthen.expect("some length does");
    assert!((upper - longer).mm().abs() < 0.2 * longer.mm(), "{upper:?}, {longer:?}");
    let wide = TracerFields { rims_apart_mm: Some(4.0), ..TracerFields::default() };
    assert_eq!(at(&instrument(30.0), level(), &wide).lengthen, Some(Length::ZERO));
}

#[test]
fn the_plate_goes_with_its_member_and_the_drawing_with_the_plate() {
    let on = |plate_on| {
        let fields = TracerFields { plate_on: Some(plate_on), ..TracerFields::default() };
        at(&instrument(30.0), level(), &fields)
    };
    let (lower, upper) = (on(Member::Lower), on(Member::Upper));
    assert!(lower.legs[0].hole.forward.mm() < -5.9 && upper.legs[0].hole.forward.mm() > 5.9);
    // To the right the plate of the lower member passes under the stylus, which marks its left.
    assert!(lower.legs[1].hole.left.mm() > 1.0 && upper.legs[1].hole.left.mm() < -1.0);
}

#[test]
fn a_tracer_of_a_scene_is_read_written_and_refused() {
    let text = sim_core::scene::THIRTY_DEGREE.replacen(
        "samples:",
        "tracer: (plate_on: Upper, stylus_mm: (60, 0, -36), plate_size_mm: (30, 20), rims_apart_mm: 2.5),\n    samples:",
        1,
    );
    let scene = Scene::from_ron(&text).expect("a scene with a tracer");
    assert_eq!(Scene::from_ron(&scene.to_ron()), Ok(scene.clone()));
    let tracer = scene.completed_tracer();
    assert_eq!((tracer.plate_on, tracer.half_mm), (Member::Upper, (15.0, 10.0)));
    assert_eq!(tracer.stylus_mm, Vector3::new(60.0, 0.0, -36.0));
    assert_eq!(tracer.plate.inclination, scene.occlusal_plane.inclination);
    for (given, named) in [("(30, 20)", "(0, 20)"), ("2.5", "-1.0"), ("(60, 0, -36)", "(5, 0, -36)")]
        .map(|(from, to)| (text.replace(from, to), to))
    {
        let refused = Scene::from_ron(&given).expect_err(named);
        assert!(refused.to_string().contains("allowed are"), "{refused}");
    }
}

proptest! {
    #![proptest_config(random::cases(48))]

    #[test]
    fn holes_are_at_their_distance_legs_end_at_theirs_and_mirror_images_draw_mirror_images(
        inclination in 5.0..50.0_f64, plane in -10.0..15.0_f64, distance in 2.0..7.0_f64,
    ) {
        let instrument = instrument(inclination);
        let plane = OcclusalPlane { inclination: Angle::from_degrees(plane) };
        let tracer = TracerFields::default().completed(plane, &instrument.incisal_point);
        let setup = set_up(&instrument, plane, &tracer, mm(distance), mm(8.0)).unwrap();
        for leg in &setup.legs {
            let far = |point: &PlatePoint| point.distance(&PlatePoint::APEX).mm();
            prop_assert!((far(&leg.hole) - distance).abs() < SEARCHED_MM);
            prop_assert!((far(&leg.end) - 8.0).abs() < SEARCHED_MM);
            let rectangle = (20.0 - leg.end.forward.mm().abs()).min(20.0 - leg.end.left.mm().abs());
            prop_assert!((leg.inside.mm() - rectangle).abs() < SEARCHED_MM);
        }
        let [protrusive, right, left] = &setup.legs;
        prop_assert!(protrusive.hole.left.mm().abs() < SEARCHED_MM);
        prop_assert!((right.hole.left.mm() + left.hole.left.mm()).abs() < SEARCHED_MM);
        prop_assert!((right.gaps.right_heel - left.gaps.left_heel).mm().abs() < SEARCHED_MM);
    }
}
