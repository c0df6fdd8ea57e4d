//! Laws that hold for all settings.

use approx::assert_relative_eq;
use nalgebra::{Matrix3, Vector3};
use proptest::prelude::*;
use sim_core::anterior::{AnteriorGuide, Trough};
use sim_core::cusp::{Cusp, Gauges};
use sim_core::excursion::{Mechanism, Movement, Placement, Ratio, Station};
use sim_core::frame::{JawPose, OcclusalPlane, Side};
use sim_core::guide::GuidePath;
use sim_core::instrument::{Design, Instrument};
use sim_core::units::{Angle, Length};
use whole_checks::definition::{self, condyle, departure_from_rotation, guide_gaps, matrix, superior_wall};
use whole_checks::random;
use whole_checks::tolerance::ROUNDED;

/// Gaps of a guide's planes are read through an inverted matrix, which costs a digit.
const GAP_MM: f64 = 10.0 * ROUNDING_MM;
/// An advance is searched for from the displacement that it makes; where the incisal point hardly moves
/// for it, two digits more are lost.
const SEARCHED: f64 = 1e-8;
/// A hundredth of a millimetre of advance moves nothing within the jaw by a tenth.
const SMALL_STEP_MM: f64 = 0.1;
/// An oblique movement that is a billionth away from a pure one, over a jaw of a hundred millimetres.
const NEARLY_PURE: f64 = 1e-6;

/// What rounding leaves of products of hundred-millimetre lengths, with room for a 4×4 inverse.
const ROUNDING_MM: f64 = 1e-10;
/// Poses are exact rotations to this.
const ORTHONORMAL: f64 = 1e-12;

fn placed(instrument: &Instrument, movement: Movement, advance_mm: f64) -> Placement {
    Mechanism::new(instrument)
        .at(movement, Station::advanced(Length::from_mm(advance_mm)))
        .expect("a pose within reach")
}

/// Greatest entry of the difference of two poses: millimetres, and rotation entries times 100 mm.
fn apart(a: &JawPose, b: &JawPose) -> f64 {
    let rotation = (a.rotation() - b.rotation()).amax() * 100.0;
    rotation.max((a.translation() - b.translation()).amax())
}

fn mirrored(instrument: &Instrument) -> Instrument {
    let mut mirror = instrument.clone();
    std::mem::swap(&mut mirror.right_guide, &mut mirror.left_guide);
    mirror.incisal_point.y = -mirror.incisal_point.y;
    if let AnteriorGuide::Table(trough) | AnteriorGuide::Incisors(trough) = &mut mirror.anterior_guide {
        std::mem::swap(&mut trough.right_wing, &mut trough.left_wing);
    }
    mirror
}

fn mirrored_movement(movement: Movement) -> Movement {
    match movement {
        Movement::Lateral { working } => Movement::Lateral { working: working.opposite() },
        Movement::Lateroprotrusive { working, ratio } => {
            Movement::Lateroprotrusive { working: working.opposite(), ratio }
        }
        Movement::Protrusive | Movement::Opening => movement,
    }
}

fn mirrored_cusp(cusp: &Cusp) -> Cusp {
    let at = cusp.at_mm();
    Cusp::new(cusp.tooth().across(), cusp.name(), [at.x, -at.y, at.z], *cusp.opposing()).unwrap()
}

proptest! {
    #![proptest_config(random::cases(1500))]

    #[test]
    fn every_pose_is_a_rotation(instrument in random::instrument(), movement in random::movement(), t in 0.0..random::REACH_MM) {
        let pose = placed(&instrument, movement, t).jaw;
        prop_assert!(departure_from_rotation(pose.rotation()) <= ORTHONORMAL);
    }

    #[test]
    fn at_rest_with_the_pin_flush_the_members_are_in_the_zeroed_centric_position(
        instrument in random::instrument(), movement in random::movement(),
    ) {
        let pose = Mechanism::new(&instrument).at(movement, Station::REST).unwrap().jaw;
        prop_assert!(apart(&pose, &JawPose::identity()) <= ROUNDING_MM);
    }

    #[test]
    fn the_pose_puts_each_sphere_where_its_guide_says(
        instrument in random::instrument(), movement in random::movement(), t in 0.0..random::REACH_MM,
    ) {
        let placed = placed(&instrument, movement, t);
        for side in Side::BOTH {
            let read = placed.condyle(side);
            let seen = condyle(&instrument, &placed.jaw, side);
            for (stated, seen) in [read.advance, read.medial, read.drop].into_iter().zip(seen) {
                prop_assert!((stated.mm() - seen).abs() <= ROUNDING_MM, "{side}: {stated:?} but {seen}");
            }
        }
    }

    #[test]
    fn the_distance_between_the_sphere_centres_is_kept(
        instrument in random::instrument(), movement in random::movement(), t in 0.0..random::REACH_MM,
    ) {
        // From the readings alone: the pose keeps distances whatever they are.
        let placed = placed(&instrument, movement, t);
        let sign = if instrument.design == Design::Arcon { 1.0 } else { -1.0 };
        let (r, l) = (placed.right, placed.left);
        let w = instrument.intercondylar_distance.mm();
        let across = Vector3::new(
            l.advance.mm() - r.advance.mm(),
            w - sign * (l.medial.mm() + r.medial.mm()),
            l.drop.mm() - r.drop.mm(),
        );
        prop_assert!((across.norm() - w).abs() <= ROUNDING_MM);
    }

    #[test]
    fn every_condylar_wall_is_touched_as_the_movement_asks(
        instrument in random::instrument(), movement in random::movement(), t in 0.0..random::REACH_MM,
    ) {
        let placed = placed(&instrument, movement, t);
        let ratio = if let Movement::Lateroprotrusive { ratio, .. } = movement { ratio.get() } else { 0.0 };
        for side in Side::BOTH {
            let guide = instrument.guide(side);
            let [a, m, v] = condyle(&instrument, &placed.jaw, side);
            let is_working = movement.working_side() == Some(side);
            let (want_a, want_v) = if is_working {
                (ratio * t + m * guide.lateroretrusion.tan(),
                 superior_wall(guide, ratio * t).map(|f| f + m * guide.laterosurtrusion.tan()))
            } else {
                (t, superior_wall(guide, t).map(|f| f + m * guide.wall_tilt.tan()))
            };
            prop_assert!((a - want_a).abs() <= ROUNDING_MM, "{side} advance {a}, {want_a} wanted");
            if let Some(want_v) = want_v {
                prop_assert!((v - want_v).abs() <= ROUNDING_MM, "{side} drop {v}, {want_v} wanted");
            }
            if movement.orbiting_side() == Some(side) {
                let early = &guide.early_translation;
                let whole = guide.immediate_translation.mm()
                    + early.amount.mm() * (t / early.over.mm()).min(1.0)
                    + t * guide.lateral_angle.tan();
                prop_assert!((m - (1.0 - ratio) * whole).abs() <= ROUNDING_MM, "{side} medial {m}");
            }
        }
        if movement == Movement::Protrusive {
            prop_assert!((placed.right.medial - placed.left.medial).mm().abs() <= ROUNDING_MM);
        }
    }

    #[test]
    fn the_anterior_guide_is_touched_and_not_pierced(
        instrument in random::instrument(), movement in random::movement(), t in 0.0..random::REACH_MM, pin in -2.0..6.0,
    ) {
        let mut instrument = instrument;
        if matches!(instrument.anterior_guide, AnteriorGuide::Table(_)) {
            instrument.pin_extension = Length::from_mm(pin);
        }
        let placed = placed(&instrument, movement, t);
        let gaps = guide_gaps(&instrument, &placed.jaw);
        let least = gaps.into_iter().fold(f64::INFINITY, f64::min);
        prop_assert!(least.abs() <= GAP_MM, "gaps {gaps:?}");
        let touched = match placed.guidance.plane().map(sim_core::anterior::GuidePlane::name) {
            Some("plate") => gaps[0],
            Some("right_wing") => gaps[1],
            Some("left_wing") => gaps[2],
            other => return Err(TestCaseError::fail(format!("guided by {other:?}"))),
        };
        prop_assert!(touched.abs() <= GAP_MM, "said to touch {:?}, gaps {gaps:?}", placed.guidance);
    }

    #[test]
    fn a_jaw_held_further_open_about_the_spheres_touches_no_plane(
        instrument in random::instrument(), movement in random::movement(), t in 0.0..random::REACH_MM, more in 0.01..0.3,
    ) {
        let pose = placed(&instrument, movement, t).jaw;
        // Turned about the axis through the spheres, which the lower member sees as its own y axis
        // (arcon) and the upper one as its own (non-arcon).
        let turn = nalgebra::Rotation3::from_axis_angle(&Vector3::y_axis(), more).to_homogeneous();
        let m = matrix(&pose);
        let opened = match instrument.design {
            Design::Arcon => m * turn,
            Design::NonArcon => turn * m,
        };
        let on_table = matches!(instrument.anterior_guide, AnteriorGuide::Table(_));
        let rest = instrument.incisal_point.coords().push(1.0);
        let point = if on_table { opened.try_inverse().unwrap() * rest } else { opened * rest };
        let planes = instrument.anterior_guide.planes(instrument.incisal_point.coords()).unwrap();
        for plane in planes {
            let gap = plane.normal.dot(&point.xyz()) - plane.offset_mm;
            prop_assert!(if on_table { gap > 0.0 } else { gap < 0.0 }, "{:?} {gap}", plane.which);
        }
    }

    #[test]
    fn left_and_right_are_mirror_images(
        instrument in random::instrument(), movement in random::movement(), t in 0.0..random::REACH_MM,
        cusp in random::cusp(), plane in random::occlusal_plane(),
    ) {
        let here = placed(&instrument, movement, t);
        let there = placed(&mirrored(&instrument), mirrored_movement(movement), t);
        let mirror = Matrix3::from_diagonal(&Vector3::new(1.0, -1.0, 1.0));
        prop_assert!((mirror * here.jaw.rotation() * mirror - there.jaw.rotation()).amax() <= ORTHONORMAL);
        prop_assert!((mirror * here.jaw.translation() - there.jaw.translation()).amax() <= ROUNDING_MM);
        let read = |cusp: &Cusp, placed: &Placement| Gauges::new(plane, std::slice::from_ref(cusp)).read(&placed.jaw).next().unwrap();
        let (one, other) = (read(&cusp, &here), read(&mirrored_cusp(&cusp), &there));
        prop_assert!((one.separation - other.separation).mm().abs() <= ROUNDING_MM);
        prop_assert!((one.clearance - other.clearance).mm().abs() <= ROUNDING_MM);
    }

    #[test]
    fn protrusion_of_a_symmetric_instrument_stays_in_the_sagittal_plane(
        instrument in random::symmetric_instrument(), t in 0.0..random::REACH_MM,
    ) {
        let pose = placed(&instrument, Movement::Protrusive, t).jaw;
        prop_assert!((pose.rotation() * Vector3::y() - Vector3::y()).amax() <= ORTHONORMAL);
        prop_assert!(pose.translation().y.abs() <= ORTHONORMAL);
    }

    #[test]
    fn cusp_readings_are_what_their_definition_says(
        instrument in random::instrument(), movement in random::movement(), t in 0.0..random::REACH_MM,
        cusps in proptest::collection::vec(random::cusp(), 1..6), plane in random::occlusal_plane(),
    ) {
        let pose = placed(&instrument, movement, t).jaw;
        for (reading, cusp) in Gauges::new(plane, &cusps).read(&pose).zip(&cusps) {
            let [separation, clearance] = definition::cusp(plane, cusp, &pose);
            prop_assert!((reading.separation.mm() - separation).abs() <= ROUNDING_MM);
            prop_assert!((reading.clearance.mm() - clearance).abs() <= ROUNDING_MM);
        }
    }

    #[test]
    fn incisal_driven_and_condyle_driven_give_the_same_pose(
        instrument in random::instrument(), movement in random::movement(), t in 0.05..random::REACH_MM,
    ) {
        let mechanism = Mechanism::new(&instrument);
        let driven = mechanism.at(movement, Station::advanced(Length::from_mm(t))).unwrap();
        let rest = mechanism.rest().unwrap();
        let displacement = driven.incisal_point.distance_mm(&rest.incisal_point);
        // The first station at which the incisal point is so far is the same one only where it
        // goes ever farther; on steep early translation it may not.
        let farthest_before = (1..200).map(|n| f64::from(n) / 200.0 * (t - 0.01))
            .map(|before| mechanism.at(movement, Station::advanced(Length::from_mm(before))).unwrap())
            .map(|placed| placed.incisal_point.distance_mm(&rest.incisal_point))
            .fold(0.0, f64::max);
        prop_assume!(farthest_before < displacement);
        let searched = mechanism.at_incisal_displacement(movement, Length::from_mm(displacement)).unwrap();
        prop_assert!(apart(&searched.jaw, &driven.jaw) <= SEARCHED, "advance {:?}, {t} wanted", searched.advance());
    }

    #[test]
    fn small_steps_give_small_changes(
        instrument in random::instrument(), movement in random::movement(), t in 0.0..random::REACH_MM - 0.01,
    ) {
        let (one, other) = (placed(&instrument, movement, t), placed(&instrument, movement, t + 0.01));
        prop_assert!(apart(&one.jaw, &other.jaw) <= SMALL_STEP_MM);
    }

    #[test]
    fn lateroprotrusion_joins_lateral_and_protrusive(
        instrument in random::symmetric_instrument(), working in prop_oneof![Just(Side::Right), Just(Side::Left)],
        t in 0.0..random::REACH_MM,
    ) {
        let oblique = |ratio| Movement::Lateroprotrusive { working, ratio: Ratio::new(ratio).unwrap() };
        let near_lateral = placed(&instrument, oblique(1e-9), t);
        let lateral = placed(&instrument, Movement::Lateral { working }, t);
        prop_assert!(apart(&near_lateral.jaw, &lateral.jaw) <= NEARLY_PURE);
        let near_protrusive = placed(&instrument, oblique(1.0 - 1e-9), t);
        let protrusive = placed(&instrument, Movement::Protrusive, t);
        prop_assert!(apart(&near_protrusive.jaw, &protrusive.jaw) <= NEARLY_PURE);
    }

    #[test]
    fn separation_at_back_teeth_grows_with_the_horizontal_inclination(
        instrument in random::symmetric_instrument(), more in 0.5..15.0, t in 0.5..random::REACH_MM,
        cusp in random::cusp(), h in 5.0..40.0, tipped in 0.0..12.0, behind in 20.0..50.0,
    ) {
        // Of settings that patients have: a non-arcon guide of 60° that has turned with a closing
        // jaw pushes it so far forward along a plane tipped by 19° that the law fails there.
        let plane = OcclusalPlane { inclination: Angle::from_degrees(tipped) };
        // Back teeth stand well behind the incisal point, where the jaw's turn carries them apart.
        let mut instrument = instrument;
        instrument.incisal_point.x = Length::from_mm(cusp.at_mm().x + behind);
        let with = |raise: f64| {
            let mut instrument = instrument.clone();
            for side in Side::BOTH {
                let guide = instrument.guide_mut(side);
                guide.path = GuidePath::Straight;
                guide.wall_tilt = Angle::ZERO;
                guide.horizontal_inclination = Angle::from_degrees(h + raise);
            }
            instrument
        };
        let separation = |instrument: &Instrument, movement| {
            let pose = placed(instrument, movement, t).jaw;
            Gauges::new(plane, std::slice::from_ref(&cusp)).read(&pose).next().unwrap().separation
        };
        let (flatter, steeper) = (with(0.0), with(more));
        let orbiting = Movement::Lateral { working: cusp.tooth().side().opposite() };
        for movement in [Movement::Protrusive, orbiting] {
            prop_assert!(separation(&steeper, movement) > separation(&flatter, movement), "{movement:?}");
        }
    }

    #[test]
    fn arcon_and_non_arcon_agree_where_the_jaw_does_not_turn_and_part_where_it_does(
        h in 15.0..55.0, tip in -2.0..2.0_f64, open in 1.0..10.0, t in 2.0..random::REACH_MM,
    ) {
        let with = |design, plate: f64, pin: f64| {
            let mut instrument = Instrument { design, pin_extension: Length::from_mm(pin), ..Instrument::zeroed() };
            instrument.incisal_point.z = Length::from_mm(-42.0 + tip);
            for side in Side::BOTH {
                instrument.guide_mut(side).horizontal_inclination = Angle::from_degrees(h);
            }
            instrument.anterior_guide = AnteriorGuide::Table(Trough { sagittal_inclination: Angle::from_degrees(plate), ..Trough::LEVEL });
            instrument
        };
        let both = |plate, pin, advance| [Design::Arcon, Design::NonArcon]
            .map(|design| placed(&with(design, plate, pin), Movement::Protrusive, advance).jaw);
        // A table as steep as the guides: protrusion without rotation.
        let [arcon, non_arcon] = both(h, 0.0, t);
        prop_assert!(apart(&arcon, &non_arcon) <= ROUNDING_MM);
        // At rest the same, even opened at the pin.
        let [arcon, non_arcon] = both(h, open, 0.0);
        prop_assert!(apart(&arcon, &non_arcon) <= ROUNDING_MM);
        // Opened by θ, a non-arcon guide has turned with the lower member: in the upper frame its
        // condyle has moved by the guide's own (t, −v) turned by θ, not by (t, −v).
        let mechanism = Mechanism::new(&with(Design::NonArcon, h, open));
        let opened = mechanism.at(Movement::Protrusive, Station::advanced(Length::from_mm(t))).unwrap();
        let (theta, v) = (opened.opening().radians(), t * h.to_radians().tan());
        prop_assert!(theta > 0.0);
        let dropped = -opened.jaw.translation().z;
        prop_assert!((dropped - (t * theta.sin() + v * theta.cos())).abs() <= ROUNDING_MM);
        let [arcon, _] = both(h, open, t);
        prop_assert!((-arcon.translation().z - v).abs() <= ROUNDING_MM);
    }
}

#[test]
fn the_example_of_a_baseline_departs_from_nothing_and_each_setting_changed_is_named() {
    use sim_core::instrument::Baseline;
    use sim_core::scene::Scene;
    use sim_core::setting;
    use sim_core::setting::check_zeroed;
    let mut scene = Scene::thirty_degree();
    scene.instrument = Instrument::zeroed();
    assert_eq!(check_zeroed(&scene.instrument, &Baseline::example()), []);
    for setting in setting::all() {
        let facts = setting.facts();
        let Some(zeroed) = facts.zeroed else { continue };
        for side in Side::BOTH {
            let mut changed = scene.clone();
            setting.set(&mut changed, side, zeroed + facts.step).unwrap();
            let differing = check_zeroed(&changed.instrument, &Baseline::example());
            assert_eq!(differing.len(), 1, "{} {side}", setting.key());
            assert_eq!(differing[0].key, setting.key());
            assert_eq!(differing[0].side, setting.is_per_side().then_some(side));
        }
    }
}

#[test]
fn hinge_opening_turns_about_the_axis_alone() {
    for design in [Design::Arcon, Design::NonArcon] {
        let instrument = Instrument { design, ..Instrument::zeroed() };
        let placed = Mechanism::new(&instrument).opened_to(Angle::from_degrees(12.5));
        assert_relative_eq!(placed.opening().degrees(), 12.5, epsilon = ROUNDED);
        assert!(placed.jaw.translation().amax() <= ORTHONORMAL);
        for side in Side::BOTH {
            assert!(condyle(&instrument, &placed.jaw, side).iter().all(|d| d.abs() <= ORTHONORMAL));
        }
        // The chin goes down.
        assert!(placed.incisal_point.z() < -42.0);
    }
}
