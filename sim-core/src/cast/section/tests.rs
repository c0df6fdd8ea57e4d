//! Sections against closed forms and against volume, which is reached without any plane.

use nalgebra::Vector3;
use proptest::prelude::*;

use super::{Cut, Section, SectionLine};
use crate::cast::Surface;
use crate::frame::{JawPose, OcclusalPlane};
use crate::units::{Angle, Length};

const LEVEL: OcclusalPlane = OcclusalPlane { inclination: Angle::ZERO };

/// A ring about the z axis: `wide` from the axis to the middle of its round section of radius `thick`.
fn torus(middle: Vector3<f64>, wide: f64, thick: f64, steps: u32) -> Surface {
    let turn = |step: u32| std::f64::consts::TAU * f64::from(step) / f64::from(steps);
    let mut vertices = Vec::new();
    for along in 0..steps {
        for about in 0..steps {
            let (radius, height) = (wide + thick * turn(about).cos(), thick * turn(about).sin());
            vertices
                .push(middle + Vector3::new(radius * turn(along).cos(), radius * turn(along).sin(), height));
        }
    }
    let at = |along: u32, about: u32| (along % steps) * steps + about % steps;
    let mut triangles = Vec::new();
    for along in 0..steps {
        for about in 0..steps {
            let (a, b) = (at(along, about), at(along + 1, about));
            let (c, d) = (at(along + 1, about + 1), at(along, about + 1));
            triangles.extend([[a, b, c], [a, c, d]]);
        }
    }
    Surface::new(vertices, triangles).unwrap()
}

/// Area within closed lines by the shoelace formula; inner ones run the other way.
fn area(lines: &[SectionLine]) -> f64 {
    lines
        .iter()
        .flat_map(|line| line.windows(2))
        .map(|ends| (ends[0][0] * ends[1][1] - ends[1][0] * ends[0][1]) / 2.0)
        .sum()
}

/// Volume within a closed surface by the divergence theorem.
fn volume(surface: &Surface) -> f64 {
    let corners = (0..surface.triangles().len()).map(|triangle| surface.corners(triangle));
    corners.map(|[a, b, c]| a.dot(&b.cross(&c)) / 6.0).sum()
}

fn sagittal(left: f64) -> Cut {
    Cut::sagittal(LEVEL, Length::from_mm(left))
}

#[test]
fn a_ring_is_cut_in_two_circles() {
    let ring = torus(Vector3::zeros(), 10.0, 3.0, 120);
    let section = Section::of(&ring, &ring, &JawPose::identity(), &sagittal(0.0));
    assert_eq!(section.upper.len(), 2);
    for line in &section.upper {
        assert_eq!(line.first(), line.last());
        for [across, up] in line {
            let off = ((across.abs() - 10.0).hypot(*up) - 3.0).abs();
            // The sagitta of a chord of 3° on a circle of 3 mm.
            assert!(off < 0.002, "{off}");
        }
    }
    // Beside the hole the two circles have become one.
    assert_eq!(Section::of(&ring, &ring, &JawPose::identity(), &sagittal(9.0)).upper.len(), 1);
}

#[test]
fn an_open_surface_is_cut_in_a_line_from_border_to_border() {
    let vertices = vec![
        Vector3::new(0.0, -1.0, 0.0),
        Vector3::new(4.0, -1.0, 1.0),
        Vector3::new(4.0, 1.0, 1.0),
        Vector3::new(0.0, 1.0, 0.0),
    ];
    let sheet = Surface::new(vertices, vec![[0, 1, 2], [0, 2, 3]]).unwrap();
    let section = Section::of(&sheet, &sheet, &JawPose::identity(), &sagittal(0.0));
    assert_eq!(section.upper.len(), 1);
    let line = &section.upper[0];
    assert_eq!(line.len(), 3);
    let (first, last) = (line[0], line[2]);
    let ends = if first[0] < last[0] { [first, last] } else { [last, first] };
    assert_eq!(ends, [[0.0, 0.0], [4.0, 1.0]]);
}

#[test]
fn a_plane_through_vertices_and_one_past_everything_are_cut_soundly() {
    let ring = torus(Vector3::zeros(), 10.0, 3.0, 8);
    // Vertices of an eight-sided ring lie in the plane y = 0.
    for line in Section::of(&ring, &ring, &JawPose::identity(), &sagittal(0.0)).upper {
        assert_eq!(line.first(), line.last());
        assert!(line.iter().flatten().all(|number| number.is_finite()));
    }
    let past = Section::of(&ring, &ring, &JawPose::identity(), &sagittal(14.0));
    assert!(past.upper.is_empty() && past.least_gap().is_none());
}

#[test]
fn the_gap_between_two_rings_is_that_of_their_circles() {
    let upper = torus(Vector3::new(0.0, 0.0, 7.5), 10.0, 3.0, 120);
    let lower = torus(Vector3::new(0.5, 0.0, 0.0), 10.0, 3.0, 120);
    let gap = Section::of(&upper, &lower, &JawPose::identity(), &sagittal(0.0)).least_gap().unwrap();
    // Two circles of radius 3 mm, 0.5 mm apart across and 7.5 up: least at the middle between them.
    let expected = 7.5 - 2.0 * (9.0_f64 - 0.25 * 0.25).sqrt();
    // The sagitta of a chord of 3°, at each circle.
    assert!((gap.gap.mm() - expected).abs() < 0.004, "{gap:?} instead of {expected}");
    assert!((gap.upper.mm() - gap.lower.mm() - gap.gap.mm()).abs() < 1e-12);
    assert!((gap.across.mm().abs() - 10.25).abs() < 0.3 || (gap.across.mm().abs() - 9.75).abs() < 0.3);
}

#[test]
fn where_the_lower_cast_stands_above_the_upper_the_gap_is_below_zero() {
    let upper = torus(Vector3::new(0.0, 0.0, 5.75), 10.0, 3.0, 120);
    let lower = torus(Vector3::zeros(), 10.0, 3.0, 120);
    let gap = Section::of(&upper, &lower, &JawPose::identity(), &sagittal(0.0)).least_gap().unwrap();
    assert!((gap.gap.mm() + 0.25).abs() < 0.004, "{gap:?}");
}

/// Every vertical line is asked, where the search asks corners only.
fn gap_by_brute_force(section: &Section, steps: u32) -> f64 {
    let height = |lines: &[SectionLine], at: f64, of: fn(f64, f64) -> f64| {
        let crossed = lines.iter().flat_map(|line| line.windows(2)).filter_map(|ends| {
            let part = (at - ends[0][0]) / (ends[1][0] - ends[0][0]);
            (0.0..=1.0).contains(&part).then(|| ends[0][1] + (ends[1][1] - ends[0][1]) * part)
        });
        crossed.reduce(of)
    };
    let (mut low, mut high) = (f64::INFINITY, f64::NEG_INFINITY);
    for [across, _] in section.lower.iter().flatten() {
        (low, high) = (low.min(*across), high.max(*across));
    }
    let places = (0..=steps).map(|step| low + (high - low) * f64::from(step) / f64::from(steps));
    let gaps = places
        .filter_map(|at| Some(height(&section.upper, at, f64::min)? - height(&section.lower, at, f64::max)?));
    gaps.fold(f64::INFINITY, f64::min)
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]

    /// Cavalieri: the areas of the sections, added up over the surface's width, are its volume. Over a
    /// faceted body the area is a quadratic of the plane's place between one vertex and the next, so two
    /// places of Gauss give it exactly.
    #[test]
    fn areas_of_sections_add_up_to_the_volume(
        wide in 6.0..20.0, thick in 1.0..5.0, steps in 5u32..12, tip in -30.0..30.0, shift in -9.0..9.0,
    ) {
        let plane = OcclusalPlane { inclination: Angle::from_degrees(tip) };
        let ring = torus(Vector3::new(shift, 2.0, -shift), wide, thick, steps);
        let across = |cut: &Cut| area(&Section::of(&ring, &ring, &JawPose::identity(), cut).upper);
        let mut stops: Vec<f64> = ring.vertices().iter().map(|vertex| vertex.dot(&plane.anterior())).collect();
        stops.sort_by(f64::total_cmp);
        let mut sum = 0.0;
        for ends in stops.windows(2) {
            let (from, to) = (ends[0], ends[1]);
            let width = to - from;
            if width < 1e-9 {
                continue;
            }
            let at = |part: f64| across(&Cut::frontal(plane, Length::from_mm(from + width * part)));
            let inner = 0.5 - 0.5 / 3.0_f64.sqrt();
            sum += width * (at(inner) + at(1.0 - inner)) / 2.0;
        }
        prop_assert!((sum.abs() - volume(&ring)).abs() < 1e-6 * volume(&ring), "{sum} and {}", volume(&ring));
    }

    /// No vertical line finds a lesser gap than the search, and some comes as near as their spacing.
    #[test]
    fn no_vertical_line_finds_a_lesser_gap(
        apart in 1.0..9.0, beside in -4.0..4.0, thick in 1.0..4.0, left in -8.0..8.0,
    ) {
        let upper = torus(Vector3::new(beside, 0.0, apart), 10.0, thick, 24);
        let lower = torus(Vector3::zeros(), 10.0, 3.0, 24);
        let section = Section::of(&upper, &lower, &JawPose::identity(), &sagittal(left));
        let gap = section.least_gap().map_or(f64::INFINITY, |gap| gap.gap.mm());
        let brute = gap_by_brute_force(&section, 4000);
        prop_assert!(gap <= brute + 1e-9, "{gap} above {brute}");
        if gap.is_finite() {
            // The steepest side may fall this much between two lines.
            prop_assert!(brute < gap + 1.0, "{gap} far below {brute}");
        }
    }
}
