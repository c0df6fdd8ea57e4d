//! Faces of many corners are cut so that their area is the polygon's.

use proptest::prelude::*;
use std::fmt::Write as _;

use nalgebra::{Rotation3, Vector3};

use super::shapes::{area, read};

/// Rounding in coordinates of up to 100 mm and their products.
const PART: f64 = 1e-9;

/// The face with these corners, read from an OBJ file.
fn cast(corners: &[Vector3<f64>]) -> files::cast::ReadCast {
    let mut text = String::new();
    for [x, y, z] in corners.iter().map(|&corner| <[f64; 3]>::from(corner)) {
        writeln!(text, "v {x} {y} {z}").expect("text");
    }
    let indices: Vec<String> = (1..=corners.len()).map(|index| index.to_string()).collect();
    read("a.obj", text + "f " + &indices.join(" ") + "\n").expect("a polygon")
}

/// The area inside a flat line of corners, as a vector along its normal.
fn area_inside(corners: &[Vector3<f64>]) -> Vector3<f64> {
    let next = corners.iter().cycle().skip(1);
    corners.iter().zip(next).map(|(one, other)| one.cross(other) / 2.0).sum()
}

#[test]
fn a_hollow_quadrilateral_is_cut_inside() {
    // An arrowhead: a fan from its first corner would leave it.
    let corners = [(50.0, 0.0), (0.0, 40.0), (10.0, 0.0), (0.0, -40.0)].map(|(x, y)| Vector3::new(x, y, 3.0));
    for first in 0..4 {
        let mut turned = corners;
        turned.rotate_left(first);
        let cast = cast(&turned);
        assert!((area(&cast.surface) - 1600.0).abs() < 1e-9, "{}", area(&cast.surface));
        assert_eq!(cast.surface.triangles().len(), 2);
    }
}

#[test]
fn a_corner_on_a_straight_side_is_kept_so_that_neighbours_fit() {
    // A box whose top has a corner in the middle of one side, which the neighbour has too.
    let text = "v 0 0 0\nv 60 0 0\nv 60 50 0\nv 0 50 0\nv 0 0 20\nv 60 0 20\nv 60 50 20\nv 0 50 20\nv 30 0 20\n\
        f 4 3 2 1\nf 5 9 6 7 8\nf 1 2 6 9 5\nf 2 3 7 6\nf 3 4 8 7\nf 4 1 5 8\n";
    let cast = read("a.obj", text).expect("a box");
    assert_eq!((cast.report.closed_shells, cast.report.borders), (1, 0));
    assert_eq!(cast.warnings(), Vec::<String>::new());
    assert!((area(&cast.surface) - 10_400.0).abs() < 1e-9);
}

#[test]
fn a_ring_that_touches_itself_is_cut_inside() {
    // A square with a square hole, joined by a slit, as programs write faces with holes.
    let corners =
        [(0, 0), (60, 0), (60, 60), (0, 60), (0, 0), (20, 20), (20, 40), (40, 40), (40, 20), (20, 20)]
            .map(|(x, y)| Vector3::new(f64::from(x), f64::from(y), 0.0));
    assert!((area(&cast(&corners).surface) - 3200.0).abs() < 1e-9);
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(200))]

    #[test]
    fn the_triangles_of_a_star_fill_it(
        radii in prop::collection::vec(5.0..50.0_f64, 4..60),
        axis in prop::array::uniform3(-1.0..1.0_f64),
        turn in 0.0..6.3_f64,
    ) {
        let count = radii.len();
        let rotation = Rotation3::new(Vector3::from(axis) * turn);
        let corners: Vec<Vector3<f64>> = radii
            .iter()
            .enumerate()
            .map(|(at, radius)| {
                let angle = at as f64 / count as f64 * std::f64::consts::TAU;
                rotation * Vector3::new(radius * angle.cos(), radius * angle.sin(), 0.0)
            })
            .collect();
        let wanted = area_inside(&corners);
        let cast = cast(&corners);
        let surface = &cast.surface;
        prop_assert_eq!(cast.report.triangles_read, count - 2);
        // No triangle lies outside or over another: the areas add up without sign, and with it.
        prop_assert!((area(surface) - wanted.norm()).abs() < PART * wanted.norm() + 1e-3);
        let sum: Vector3<f64> = (0..surface.triangles().len())
            .map(|at| { let [a, b, c] = surface.corners(at); (b - a).cross(&(c - a)) / 2.0 })
            .sum();
        prop_assert!((sum - wanted).norm() < PART * wanted.norm() + 1e-3);
    }
}
