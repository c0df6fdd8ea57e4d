//! The first touch: against all pairs, against planes in closed form, and against another library's
//! test of whether meshes cross.

use nalgebra::{Matrix3, Vector3};
use proptest::prelude::*;

use super::samples::{cross, hills, parry, rotation, sheet, sphere, torus};
use crate::cast::closing::Touch;
use crate::cast::opening::{FirstTouch, Opening};
use crate::cast::search::Search;
use crate::cast::turning::Turning;
use crate::cast::{Casts, LastPairs, Surface, ToothPlaces};
use crate::cusp::Arch;

/// Openings agree when a hundred millimetres of lever make a nanometre of them.
const OPENING: f64 = 1e-11;

type Rigid = (Matrix3<f64>, Vector3<f64>);

fn casts(upper: Surface, lower: Surface) -> Casts {
    Casts::new(upper, lower, &ToothPlaces::none())
}

fn at_rest(shift: Vector3<f64>) -> Rigid {
    (Matrix3::identity(), shift)
}

fn cold(casts: &Casts, upper: &Rigid, lower: &Rigid) -> Option<Touch> {
    casts.first_touch(upper, lower, -3.0, &mut LastPairs::default())
}

/// The greatest opening over all pairs of triangles, without any tree.
fn all_pairs(casts: &Casts, upper: &Rigid, lower: &Rigid) -> Option<f64> {
    let search = FirstTouch::new(Turning::new(), super::map(upper), super::map(lower));
    let mut best = None;
    for one in 0..casts.surface(Arch::Upper).triangles().len() {
        let facet = search.facet(Arch::Upper, &casts.surface(Arch::Upper).corners(one));
        for other in 0..casts.surface(Arch::Lower).triangles().len() {
            let opposite = search.facet(Arch::Lower, &casts.surface(Arch::Lower).corners(other));
            let score = search.score(&facet, &opposite).map(|meeting| meeting.score);
            best = if score > best { score } else { best };
        }
    }
    best
}

/// A lower point opened about the axis.
fn opened(point: &Vector3<f64>, lower: &Rigid, by: f64) -> Vector3<f64> {
    let mut turning = Turning::new();
    turning.set(by);
    turning.turned(&(lower.0 * point + lower.1))
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    #[test]
    fn the_search_finds_what_all_pairs_have(
        seeds in (0u64..1000, 0u64..1000),
        turn in (-0.2..0.2, -0.2..0.2, -0.2..0.2),
        shift in (-3.0..3.0, -3.0..3.0, -2.0_f64..6.0),
    ) {
        let casts = casts(hills(seeds.0, 9, false), hills(seeds.1, 11, true));
        let upper = at_rest(Vector3::new(60.0, 0.0, -30.0));
        let turn = rotation(turn.0, turn.1, turn.2);
        let lower = (turn, Vector3::new(60.0 + shift.0, shift.1, -30.0 - shift.2));
        let touch = cold(&casts, &upper, &lower).unwrap();
        let brute = all_pairs(&casts, &upper, &lower).unwrap();
        prop_assert!((touch.opening_radians - brute).abs() < OPENING, "{touch:?}, all pairs {brute}");
    }

    #[test]
    fn closed_so_far_the_surfaces_touch_and_do_not_cross(
        seeds in (0u64..1000, 0u64..1000),
        turn in (-0.2..0.2, -0.2..0.2, -0.2..0.2),
    ) {
        let casts = casts(hills(seeds.0, 9, false), hills(seeds.1, 11, true));
        let upper = at_rest(Vector3::new(60.0, 0.0, -30.0));
        let lower = (rotation(turn.0, turn.1, turn.2), Vector3::new(61.0, 1.0, -33.0));
        let touch = cold(&casts, &upper, &lower).unwrap();
        let fixed = parry(casts.surface(Arch::Upper), |vertex| upper.0 * vertex + upper.1);
        let at = |by: f64| parry(casts.surface(Arch::Lower), |v| opened(v, &lower, touch.opening_radians + by));
        // Half a micrometre either way at this radius.
        prop_assert!(!cross(&fixed, &at(1e-8)), "crosses when a little more open than {touch:?}");
        prop_assert!(cross(&fixed, &at(-1e-8)), "does not cross when closed beyond {touch:?}");
    }

    #[test]
    fn a_warm_start_changes_no_answer(
        seeds in (0u64..1000, 0u64..1000),
        moves in prop::collection::vec((-0.1..0.1, -2.0..2.0, -2.0..2.0), 1..6),
        stale in (0u32..400, 0u32..400),
    ) {
        let casts = casts(hills(seeds.0, 9, false), hills(seeds.1, 11, true));
        let upper = at_rest(Vector3::new(60.0, 0.0, -30.0));
        let mut warm = LastPairs { closing: Some(stale), ..LastPairs::default() };
        for (turn, x, y) in moves {
            let lower = (rotation(turn, turn / 2.0, -turn), Vector3::new(60.0 + x, y, -33.0));
            let started = casts.first_touch(&upper, &lower, -3.0, &mut warm);
            prop_assert_eq!(started, cold(&casts, &upper, &lower));
        }
    }
}

/// A lower vertex against an upper plane: A cos θ + B sin θ = C.
#[test]
fn a_rim_closes_on_a_plane_at_the_angle_of_the_closed_form() {
    for degrees in [-20.0_f64, 0.0, 10.0, 35.0] {
        let incline = degrees.to_radians().tan();
        let upper = sheet(7, [80.0, 80.0], false, |x, _| -incline * x);
        // One tip, the highest by far.
        let lower = sheet(6, [6.0, 6.0], true, |x, y| -2.0 * (x.abs() + y.abs()));
        let casts = casts(upper, lower);
        let (fixed, moving) = (Vector3::new(60.0, 0.0, -20.0), Vector3::new(58.0, 3.0, -31.0));
        let touch = cold(&casts, &at_rest(fixed), &at_rest(moving)).unwrap();
        // The plane z − z₀ = −incline (x − x₀): n·p = C with n = (incline, 0, 1); the tip opened by θ is
        // (x cos θ + z sin θ, y, z cos θ − x sin θ).
        let c = incline * fixed.x + fixed.z;
        let (a, b) = (incline * moving.x + moving.z, incline * moving.z - moving.x);
        // Of the two openings the one at which the gap grows with θ.
        let expected = b.atan2(a) - (c / a.hypot(b)).acos();
        let expected = [expected, b.atan2(a) + (c / a.hypot(b)).acos()]
            .into_iter()
            .find(|theta| b * theta.cos() - a * theta.sin() < 0.0)
            .unwrap();
        assert!((touch.opening_radians - expected).abs() < OPENING, "{degrees}: {touch:?}, {expected}");
        assert!((touch.at - opened(&Vector3::zeros(), &at_rest(moving), expected)).norm() < 1e-9);
    }
}

/// Spheres of n segments lie within the true ones by less than r (1 − cos(π / n)).
#[test]
fn spheres_touch_where_their_centres_are_two_radii_apart() {
    let steps = 60;
    let (one, other) = (4.0, 3.0);
    let casts = casts(sphere(one, steps), sphere(other, steps));
    let (upper, lower) = (Vector3::new(70.0, 1.0, -20.0), Vector3::new(66.0, 2.0, -33.0));
    let touch = cold(&casts, &at_rest(upper), &at_rest(lower)).unwrap();
    let centre = opened(&Vector3::zeros(), &at_rest(lower), touch.opening_radians);
    let inside = (one + other) * (1.0 - (std::f64::consts::PI / steps as f64).cos());
    let apart = (centre - upper).norm();
    assert!(apart <= one + other + 1e-9 && apart >= one + other - inside, "{apart}");
    assert!(touch.opening_radians.abs() > 0.01, "{touch:?}");
}

#[test]
fn a_ball_comes_to_rest_in_the_hole_of_a_torus() {
    let steps = 96;
    let (middle, tube, radius) = (6.0, 2.0, 5.0);
    let casts = casts(torus(middle, tube, [steps; 2]), sphere(radius, steps));
    // Far from the axis the closing is nearly straight; exactly, the ball first touches one side.
    let far = 1e5;
    let (upper, lower) = (Vector3::new(far, 0.0, 0.0), Vector3::new(far, 0.0, -20.0));
    let touch = cold(&casts, &at_rest(upper), &at_rest(lower)).unwrap();
    let centre = opened(&Vector3::zeros(), &at_rest(lower), touch.opening_radians);
    // The centre of the ball is then radius + tube from the circle of the tube's middle.
    let below = ((radius + tube) * (radius + tube) - middle * middle).sqrt();
    let inside = (radius + tube) * (1.0 - (std::f64::consts::PI / steps as f64).cos());
    assert!(centre.z < -below + 5.0 * inside && centre.z > -below - 0.01, "{} {below}", centre.z);
}

#[test]
fn what_is_clear_down_to_the_floor_does_not_touch() {
    let casts = casts(hills(1, 9, false), hills(2, 9, true));
    let (upper, lower) = (at_rest(Vector3::new(60.0, 0.0, -30.0)), at_rest(Vector3::new(60.0, 0.0, -33.0)));
    let touch = cold(&casts, &upper, &lower).unwrap().opening_radians;
    let from = |floor| casts.first_touch(&upper, &lower, floor, &mut LastPairs::default());
    assert_eq!(from(touch + 1e-9), None);
    assert_eq!(from(touch - 1e-9).map(|touch| touch.opening_radians), Some(touch));
    let aside = at_rest(Vector3::new(60.0, 50.0, -33.0));
    assert_eq!(cold(&casts, &upper, &aside), None);
}

#[test]
fn backs_do_not_touch() {
    // The same two sheets, each seen from its other side.
    let casts = casts(sheet(5, [10.0; 2], true, |_, _| 0.0), sheet(5, [10.0; 2], false, |_, _| 0.0));
    let (upper, lower) = (at_rest(Vector3::new(60.0, 0.0, -30.0)), at_rest(Vector3::new(60.0, 0.0, -33.0)));
    assert_eq!(cold(&casts, &upper, &lower), None);
}

#[test]
fn a_touch_is_where_both_surfaces_are() {
    let casts = casts(hills(5, 9, false), hills(8, 9, true));
    let upper = at_rest(Vector3::new(60.0, 0.0, -30.0));
    let lower = (rotation(0.1, 0.0, 0.1), Vector3::new(61.0, 0.0, -34.0));
    let touch = cold(&casts, &upper, &lower).unwrap();
    let corners = casts.surface(Arch::Lower).corners(touch.lower_triangle as usize);
    let corners = corners.map(|corner| opened(&corner, &lower, touch.opening_radians));
    assert!((crate::cast::nearness::nearest_in(&corners, &touch.at) - touch.at).norm() < 1e-12);
    let corners = casts.surface(Arch::Upper).corners(touch.upper_triangle as usize).map(|c| c + upper.1);
    assert!((crate::cast::nearness::nearest_in(&corners, &touch.at) - touch.at).norm() < 1e-12);
}
