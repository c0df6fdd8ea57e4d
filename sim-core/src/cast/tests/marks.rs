//! Marks: areas in closed form, teeth apart, and laws.

use std::f64::consts::PI;

use nalgebra::Vector3;
use proptest::prelude::*;

use super::samples::{hills, pose, rotation, sheet, shifted, sphere};
use crate::cast::{CastPlace, Casts, Film, Mark, ToothPlaces};
use crate::cusp::{Arch, Cusp, OpposingInclines, Tooth};
use crate::frame::JawPose;
use crate::units::{Angle, Length};

/// A ball of 3 mm in 120 steps lies within the true one by less than 3 (1 − cos(π / 120)) = 0.0010 mm,
/// and areas are summed over facets and cut straight: together less than this part of the areas below.
const AREA_PART: f64 = 0.04;
const RADIUS_MM: f64 = 3.0;

fn film(mm: f64) -> Film {
    Film::new(Length::from_mm(mm)).unwrap()
}

/// A ball under a level plane, `gap` away.
fn ball(gap: f64, places: &ToothPlaces) -> Casts {
    let ball = shifted(sphere(RADIUS_MM, 120), Vector3::new(20.0, 5.0, -RADIUS_MM - gap));
    let plane = shifted(sheet(40, [10.0; 2], false, |_, _| 0.0), Vector3::new(20.0, 5.0, 0.0));
    Casts::new(plane, ball, places)
}

fn coords(place: CastPlace) -> Vector3<f64> {
    match place {
        CastPlace::Upper(point) => *point.coords(),
        CastPlace::Lower(point) => *point.coords(),
    }
}

fn on(arch: Arch, marks: &[Mark]) -> Vec<&Mark> {
    marks.iter().filter(|mark| mark.arch == arch).collect()
}

/// On the ball a film h prints a cap of height h − g, of area 2 π R (h − g); on the plane what lies within
/// R + h of the centre, R + g away: a disc of area π ((R + h)² − (R + g)²). Also where the ball pierces
/// the plane (g < 0), as long as all of the piercing lies behind.
#[test]
fn a_ball_prints_a_cap_and_a_disc() {
    for (gap, thickness) in [(0.01, 0.2), (0.0, 0.1), (-0.05, 0.1), (-0.3, 0.04)] {
        let marks = ball(gap, &ToothPlaces::none()).marks(&JawPose::identity(), film(thickness)).unwrap();
        let [upper, lower] = [on(Arch::Upper, &marks), on(Arch::Lower, &marks)];
        assert_eq!((upper.len(), lower.len()), (1, 1), "{gap} {thickness}");
        let square = |length: f64| length * length;
        let disc = PI * (square(RADIUS_MM + thickness) - square(RADIUS_MM + gap));
        assert!((upper[0].area_mm2 / disc - 1.0).abs() < AREA_PART, "{gap}: {} {disc}", upper[0].area_mm2);
        let cap = 2.0 * PI * RADIUS_MM * (thickness - gap);
        assert!((lower[0].area_mm2 / cap - 1.0).abs() < AREA_PART, "{gap}: {} {cap}", lower[0].area_mm2);
        for mark in [upper[0], lower[0]] {
            assert!((coords(mark.centroid) - Vector3::new(20.0, 5.0, 0.0)).xy().norm() < 0.01, "{mark:?}");
            assert!((mark.gap.mm() - gap).abs() < 0.002, "{gap}: {:?}", mark.gap);
            assert!((coords(mark.deepest) - Vector3::new(20.0, 5.0, 0.0)).norm() < 0.5, "{:?}", mark.deepest);
        }
    }
}

#[test]
fn what_is_farther_than_the_film_prints_nothing() {
    assert_eq!(ball(0.05, &ToothPlaces::none()).marks(&JawPose::identity(), film(0.04)).unwrap(), Vec::new());
    assert!(!ball(0.05, &ToothPlaces::none()).marks(&JawPose::identity(), film(0.06)).unwrap().is_empty());
}

#[test]
fn a_mark_over_two_teeth_is_two_marks() {
    let incline = Angle::from_degrees(20.0);
    let opposing =
        OpposingInclines { protrusive: incline, retrusive: incline, working: incline, nonworking: incline };
    let cusp = |number, x| Cusp::new(Tooth::new(number).unwrap(), "tip", [x, 5.0, 0.0], opposing).unwrap();
    let casts = ball(0.0, &ToothPlaces::of(&[cusp(26, 17.0), cusp(25, 23.0), cusp(35, 20.0)]));
    let marks = casts.marks(&JawPose::identity(), film(0.1)).unwrap();
    let teeth: Vec<_> = marks.iter().map(|mark| mark.tooth.map(Tooth::number)).collect();
    assert_eq!(teeth, [Some(25), Some(26), Some(35)]);
    let disc = PI * ((RADIUS_MM + 0.1) * (RADIUS_MM + 0.1) - RADIUS_MM * RADIUS_MM);
    // Triangles belong to one tooth whole, so the parting line is as ragged as they are large.
    assert!((marks[0].area_mm2 / disc - 0.5).abs() < 0.1, "{} {disc}", marks[0].area_mm2);
    assert!((marks[0].area_mm2 + marks[1].area_mm2 - disc).abs() < AREA_PART * disc);
    let totals = Mark::by_tooth(&marks);
    assert_eq!(totals.len(), 3);
    for (total, mark) in totals.iter().zip(&marks) {
        assert_eq!((total.arch, total.tooth, total.marks), (mark.arch, mark.tooth, 1));
        assert_eq!((total.area_mm2, total.gap), (mark.area_mm2, mark.gap));
    }
}

#[test]
fn two_balls_print_two_marks() {
    let far = |y: f64| shifted(sphere(RADIUS_MM, 40), Vector3::new(0.0, y, -RADIUS_MM));
    let (one, other) = (far(-4.0), far(4.0));
    let count = u32::try_from(one.vertices().len()).unwrap();
    let vertices = [one.vertices(), other.vertices()].concat();
    let second = other.triangles().iter().map(|triangle| triangle.map(|index| index + count));
    let both = crate::cast::Surface::new(vertices, one.triangles().iter().copied().chain(second).collect());
    let casts = Casts::new(sheet(40, [20.0; 2], false, |_, _| 0.0), both.unwrap(), &ToothPlaces::none());
    let marks = casts.marks(&JawPose::identity(), film(0.1)).unwrap();
    assert_eq!((on(Arch::Upper, &marks).len(), on(Arch::Lower, &marks).len()), (2, 2));
    let totals = Mark::by_tooth(&marks);
    assert_eq!(totals.iter().map(|total| total.marks).collect::<Vec<_>>(), [2, 2]);
}

#[test]
fn no_film_is_thinner_or_thicker_than_films_are() {
    for thickness in [0.0, -0.1, 0.0001, 2.0, f64::NAN, f64::INFINITY] {
        assert!(Film::new(Length::from_mm(thickness)).is_err(), "{thickness}");
    }
    for thickness in Film::THICKNESSES {
        assert_eq!(Film::new(thickness).unwrap().thickness(), thickness);
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(12))]

    #[test]
    fn a_thicker_film_prints_wherever_a_thinner_does(
        seeds in (0u64..1000, 0u64..1000),
        turn in (-0.1..0.1, -0.1..0.1, -0.1..0.1),
        drop in 1.0_f64..5.0,
    ) {
        let casts = Casts::new(hills(seeds.0, 12, false), hills(seeds.1, 13, true), &ToothPlaces::none());
        let jaw = pose(rotation(turn.0, turn.1, turn.2), Vector3::new(0.0, 0.0, -drop));
        let of = |thickness: f64| casts.marks(&jaw, film(thickness)).unwrap();
        let (thin, thick) = (of(0.1), of(0.2));
        let printed = |marks: &[Mark], arch| {
            let mut all: Vec<u32> = on(arch, marks).iter().flat_map(|mark| mark.triangles.clone()).collect();
            all.sort_unstable();
            all
        };
        let area = |marks: &[Mark], arch| on(arch, marks).iter().map(|mark| mark.area_mm2).sum::<f64>();
        for arch in [Arch::Upper, Arch::Lower] {
            let (few, many) = (printed(&thin, arch), printed(&thick, arch));
            prop_assert!(few.windows(2).all(|pair| pair[0] < pair[1]), "a triangle in two marks");
            prop_assert!(few.iter().all(|triangle| many.binary_search(triangle).is_ok()));
            // The finer film is sampled more finely, which moves its edge a little.
            prop_assert!(area(&thin, arch) <= area(&thick, arch) * 1.02 + 0.02);
        }
        let nearest = casts.measure(
            &jaw, crate::frame::OcclusalPlane { inclination: Angle::ZERO }, &mut crate::cast::LastPairs::default(),
        );
        // What comes nearer than the film prints on both; what does not, on neither.
        let gap = nearest.distance.gap.mm();
        if gap > 0.2 {
            prop_assert!(thick.is_empty());
        } else if gap < 0.15 {
            prop_assert!(!on(Arch::Upper, &thick).is_empty() || !on(Arch::Lower, &thick).is_empty());
        }
    }
}
