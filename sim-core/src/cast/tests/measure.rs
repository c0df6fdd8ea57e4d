//! Gaps: against all pairs, closed forms, and another library.

use nalgebra::Vector3;
use parry3d_f64::math::Pose;
use proptest::prelude::*;

use super::samples::{cross, hills, parry, pose, rotation, sheet, shifted, sphere, torus};
use crate::cast::{Casts, CastsReading, LastPairs, Surface, ToothPlaces};
use crate::cusp::Arch;
use crate::frame::{JawPose, LowerPoint, OcclusalPlane};
use crate::units::Angle;

/// Rounding of jaw-sized numbers, many times over.
const ROUNDING_MM: f64 = 1e-9;
const LEVEL: OcclusalPlane = OcclusalPlane { inclination: Angle::ZERO };

fn read(upper: Surface, lower: Surface, jaw: &JawPose, plane: OcclusalPlane) -> (Casts, CastsReading) {
    let casts = Casts::new(upper, lower, &ToothPlaces::none());
    let reading = casts.measure(jaw, plane, &mut LastPairs::default());
    (casts, reading)
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(32))]

    #[test]
    fn the_true_distance_is_that_of_another_library(
        seeds in (0u64..1000, 0u64..1000),
        turn in (-0.2..0.2, -0.2..0.2, -0.2..0.2),
        shift in (-3.0..3.0, -3.0..3.0, 5.0_f64..9.0),
    ) {
        let jaw = pose(rotation(turn.0, turn.1, turn.2), Vector3::new(shift.0, shift.1, -shift.2));
        let (casts, reading) = read(hills(seeds.0, 8, false), hills(seeds.1, 9, true), &jaw, LEVEL);
        let upper = parry(casts.surface(Arch::Upper), Vector3::clone);
        let lower = parry(casts.surface(Arch::Lower), |v| *jaw.to_upper(&LowerPoint::from_coords(*v)).coords());
        prop_assume!(!cross(&upper, &lower));
        let distance = parry3d_f64::query::distance(&Pose::IDENTITY, &upper, &Pose::IDENTITY, &lower).unwrap().distance;
        let found = reading.distance;
        prop_assert!((found.gap.mm() - distance).abs() < ROUNDING_MM, "{found:?}, parry {distance}");
        let between = found.upper.distance_mm(&jaw.to_upper(&found.lower));
        prop_assert!((between - distance).abs() < ROUNDING_MM, "{found:?}");
    }

    /// Shifted by the vertical gap they touch: a little less and they do not cross, a little more and
    /// they do.
    #[test]
    fn the_vertical_gap_is_how_far_the_lower_can_rise(
        seeds in (0u64..1000, 0u64..1000),
        turn in (-0.2..0.2, -0.2..0.2, -0.2..0.2),
        shift in (-3.0..3.0, -3.0..3.0, -2.0_f64..9.0),
        incline in -20.0..20.0,
    ) {
        let plane = OcclusalPlane { inclination: Angle::from_degrees(incline) };
        let jaw = pose(rotation(turn.0, turn.1, turn.2), Vector3::new(shift.0, shift.1, -shift.2));
        let (casts, reading) = read(hills(seeds.0, 8, false), hills(seeds.1, 9, true), &jaw, plane);
        let vertical = reading.vertical.unwrap();
        let upper = parry(casts.surface(Arch::Upper), Vector3::clone);
        let raised = |by: f64| {
            parry(casts.surface(Arch::Lower), |v| {
                jaw.to_upper(&LowerPoint::from_coords(*v)).coords() + plane.normal() * by
            })
        };
        let gap = vertical.gap.mm();
        prop_assert!(!cross(&upper, &raised(gap - 1e-7)), "{vertical:?}");
        // Parry misses one in some ten thousand crossings of 1e-5 mm, and not the same ones at other depths.
        let crosses = [1e-5, 1e-4, 1e-3].into_iter().any(|by| cross(&upper, &raised(gap + by)));
        prop_assert!(crosses, "{vertical:?}");
        let up = vertical.upper.coords() - jaw.to_upper(&vertical.lower).coords();
        prop_assert!((up - plane.normal() * gap).norm() < ROUNDING_MM, "{vertical:?}");
        // No straight way is shorter than the shortest.
        if gap > 0.0 {
            prop_assert!(reading.distance.gap.mm() <= gap + ROUNDING_MM);
        }
    }
}

#[test]
fn level_planes_are_as_far_apart_as_they_stand() {
    for gap in [2.5, 0.0, -0.75] {
        let upper = sheet(6, [20.0; 2], false, |_, _| 0.0);
        let lower = sheet(5, [16.0; 2], true, |_, _| -gap);
        let (_, reading) = read(upper, lower, &JawPose::identity(), LEVEL);
        assert!((reading.vertical.unwrap().gap.mm() - gap).abs() < ROUNDING_MM, "{reading:?}");
        // A lower vertex behind a sheet that reaches over it is as deep as it stands; under it, as near.
        assert!((reading.distance.gap.mm() - gap).abs() < ROUNDING_MM, "{reading:?}");
    }
}

/// A plane inclined by α over a level one: the gap up to it is the distance over cos α.
#[test]
fn an_inclined_plane_has_its_true_gap_square_to_it() {
    let incline = 30.0_f64.to_radians();
    let upper = sheet(8, [60.0, 60.0], false, |x, _| 5.0 + x * incline.tan());
    let lower = sheet(4, [4.0, 4.0], true, |x, y| -(x.abs() + y.abs()));
    let (_, reading) = read(upper, lower, &JawPose::identity(), LEVEL);
    let vertical = reading.vertical.unwrap();
    assert!((vertical.gap.mm() - 5.0).abs() < ROUNDING_MM, "{vertical:?}");
    assert!((reading.distance.gap.mm() - 5.0 * incline.cos()).abs() < ROUNDING_MM, "{reading:?}");
    assert!(reading.distance.lower.coords().norm() < ROUNDING_MM);
}

/// Spheres one over the other, with vertices at their poles: closed forms hold exactly.
#[test]
fn spheres_over_each_other_are_apart_by_their_centres_less_their_radii() {
    for apart in [9.0, 7.0, 6.6] {
        let upper = shifted(sphere(4.0, 24), Vector3::new(0.0, 0.0, apart));
        let (_, reading) = read(upper, sphere(3.0, 24), &JawPose::identity(), LEVEL);
        let vertical = reading.vertical.unwrap().gap.mm();
        assert!((vertical - (apart - 7.0)).abs() < ROUNDING_MM, "{reading:?}");
        let distance = reading.distance.gap.mm();
        if apart >= 7.0 {
            assert!((distance - (apart - 7.0)).abs() < ROUNDING_MM, "{reading:?}");
        } else {
            // The pole stands behind the other sphere, whose facets lie within it by r (1 − cos(π / n)).
            let facet = 4.0 * (1.0 - (std::f64::consts::PI / 24.0).cos());
            assert!(distance >= apart - 7.0 - ROUNDING_MM && distance <= apart - 7.0 + facet, "{reading:?}");
        }
    }
}

#[test]
fn a_ball_under_a_torus_is_as_far_from_it_as_from_the_circle_of_its_middle() {
    let (middle, tube, radius, below) = (6.0_f64, 2.0, 1.5, 7.0);
    let steps = 128;
    let ball = shifted(sphere(radius, steps), Vector3::new(0.0, 0.0, -below));
    let (_, reading) = read(torus(middle, tube, [steps; 2]), ball, &JawPose::identity(), LEVEL);
    let smooth = middle.hypot(below) - tube - radius;
    let facets = (tube + middle + radius) * (1.0 - (std::f64::consts::PI / steps as f64).cos());
    let found = reading.distance.gap.mm();
    // Within its hole the facets of a torus stand out of it, elsewhere they lie within it.
    assert!((found - smooth).abs() <= facets, "{found} {smooth}");
}

#[test]
fn with_nothing_opposite_there_is_a_distance_and_no_vertical_gap() {
    let lower = shifted(sheet(3, [4.0; 2], true, |_, _| 0.0), Vector3::new(10.0, 0.0, 0.0));
    let (_, reading) = read(sheet(3, [4.0; 2], false, |_, _| 0.0), lower, &JawPose::identity(), LEVEL);
    assert_eq!(reading.vertical, None);
    assert!((reading.distance.gap.mm() - 6.0).abs() < ROUNDING_MM);
}
