//! Triangles that span the cast: held to a search without trees, and to closed forms.

use std::f64::consts::PI;

use nalgebra::{Matrix3, Vector3};
use parry3d_f64::shape::Triangle;
use parry3d_f64::{math::Vector, query::PointQuery};
use proptest::prelude::*;

use super::samples::{hills, pose, rotation, sheet, shifted, sphere, torus};
use crate::cast::invented::InventedCasts;
use crate::cast::lowering::Lowering;
use crate::cast::map::Map;
use crate::cast::nearness::{Near, Nearness, is_behind, nearest_to};
use crate::cast::opening::FirstTouch;
use crate::cast::print::Print;
use crate::cast::search::Search;
use crate::cast::turning::Turning;
use crate::cast::{Casts, Film, LastPairs, Surface, ToothPlaces};
use crate::cusp::Arch;
use crate::frame::{JawPose, OcclusalPlane};
use crate::units::{Angle, Length};

/// Rounding of jaw-sized numbers, many times over.
const ROUNDING_MM: f64 = 1e-9;
const LEVEL: OcclusalPlane = OcclusalPlane { inclination: Angle::ZERO };

type Corners = [[f64; 3]; 3];

/// Triangles of some 30 mm at random in a layer of 8 mm, none joined to another.
fn soup(triangles: &[Corners]) -> Surface {
    let vertices: Vec<Vector3<f64>> = triangles.iter().flatten().map(|at| Vector3::from(*at)).collect();
    let count = u32::try_from(triangles.len()).unwrap();
    Surface::new(vertices, (0..count).map(|at| [3 * at, 3 * at + 1, 3 * at + 2]).collect()).unwrap()
}

fn some_triangles() -> impl Strategy<Value = Vec<Corners>> {
    let corner = || (60.0..90.0_f64, -15.0..15.0_f64, -4.0..4.0_f64).prop_map(|(x, y, z)| [x, y, z]);
    proptest::collection::vec([corner(), corner(), corner()], 1..12)
}

/// The greatest score of all pairs, each looked at.
fn greatest<S: Search>(search: &S, upper: &Surface, lower: &Surface) -> Option<f64> {
    let facets = |arch, surface: &Surface| -> Vec<S::Facet> {
        (0..surface.triangles().len()).map(|at| search.facet(arch, &surface.corners(at))).collect()
    };
    let lower = facets(Arch::Lower, lower);
    let scores = facets(Arch::Upper, upper).into_iter().flat_map(|one| {
        lower
            .iter()
            .filter_map(|other| search.score(&one, other))
            .map(|meeting| meeting.score)
            .collect::<Vec<_>>()
    });
    scores.reduce(f64::max)
}

fn agree(one: Option<f64>, other: Option<f64>) -> bool {
    match (one, other) {
        (Some(one), Some(other)) => (one - other).abs() < ROUNDING_MM,
        (one, other) => one == other,
    }
}

fn parry_point(at: &Vector3<f64>) -> Vector {
    Vector::new(at.x, at.y, at.z)
}

/// The distance of a point from a surface, over all its triangles.
fn distance(surface: &Surface, point: &Vector3<f64>) -> f64 {
    let from = |at| {
        let [a, b, c] = surface.corners(at).map(|corner| parry_point(&corner));
        Triangle::new(a, b, c).distance_to_local_point(parry_point(point), false)
    };
    (0..surface.triangles().len()).map(from).fold(f64::INFINITY, f64::min)
}

/// How often a closed surface goes round a point, by the angles that its triangles fill seen from there (Van
/// Oosterom and Strackee's, from memory).
fn times_round(surface: &Surface, point: &Vector3<f64>) -> f64 {
    let angle = |at| {
        let [a, b, c] = surface.corners(at).map(|corner| corner - point);
        let (la, lb, lc) = (a.norm(), b.norm(), c.norm());
        let below = la * lb * lc + a.dot(&b) * lc + b.dot(&c) * la + c.dot(&a) * lb;
        2.0 * a.dot(&b.cross(&c)).atan2(below)
    };
    (0..surface.triangles().len()).map(angle).sum::<f64>() / (4.0 * PI)
}

/// A closed four-sided body about a place.
fn tetrahedron(size: f64, turn: &Matrix3<f64>, at: &Vector3<f64>) -> Surface {
    let corners = [[1.0, 1.0, 1.0], [1.0, -1.0, -1.0], [-1.0, 1.0, -1.0], [-1.0, -1.0, 1.0]];
    let vertices = corners.map(|corner| turn * Vector3::from(corner) * size + at).to_vec();
    Surface::new(vertices, vec![[0, 1, 2], [0, 3, 1], [0, 2, 3], [1, 3, 2]]).unwrap()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    #[test]
    fn no_pair_is_lost_among_large_triangles(
        (upper, lower) in (some_triangles(), some_triangles()),
        turn in (-0.2..0.2, -0.2..0.2, -0.2..0.2),
        drop in -2.0..12.0_f64,
    ) {
        let casts = Casts::new(soup(&upper), soup(&lower), &ToothPlaces::none());
        let (upper, lower) = (casts.surface(Arch::Upper), casts.surface(Arch::Lower));
        let jaw = pose(rotation(turn.0, turn.1, turn.2), Vector3::new(0.0, 0.0, -drop));
        let map = Map::jaw(&jaw);
        let (vertical, found) = casts.measure_overall(&jaw, LEVEL, &mut LastPairs::default());
        let lowering = FirstTouch::new(Lowering::new(), Map::identity(), map);
        let least = greatest(&lowering, upper, lower).map(|score| -score);
        prop_assert!(agree(vertical.map(|found| found.gap.mm()), least), "{vertical:?} {least:?}");
        let least = greatest(&Nearness::new(map), upper, lower).map(|score| -score);
        // What has come through is told by the depth of its corners instead.
        if found.gap.mm() >= 0.0 {
            prop_assert!(agree(Some(found.gap.mm()), least), "{found:?} {least:?}");
        }
        let opens = (*jaw.rotation(), *jaw.translation());
        let still = (Matrix3::identity(), Vector3::zeros());
        let touch = casts.first_touch(&still, &opens, f64::NEG_INFINITY, &mut LastPairs::default());
        let turning = FirstTouch::new(Turning::new(), Map::identity(), map);
        let first = greatest(&turning, upper, lower);
        prop_assert!(agree(touch.map(|touch| touch.opening_radians), first), "{touch:?} {first:?}");
    }

    /// Inside is where the surface goes round a place once.
    #[test]
    fn behind_a_closed_surface_is_inside_it(
        place in (-3.5..3.5_f64, -3.5..3.5_f64, -1.5..1.5_f64),
        turn in (-3.0..3.0, -3.0..3.0, -3.0..3.0),
        steps in 3_usize..9,
    ) {
        let point = Vector3::new(place.0, place.1, place.2);
        let bodies = [torus(2.5, 0.9, [steps, steps + 1]), tetrahedron(2.0, &rotation(turn.0, turn.1, turn.2), &Vector3::zeros())];
        for body in bodies {
            let casts = Casts::new(body.clone(), body, &ToothPlaces::none());
            let cast = casts.cast(Arch::Upper);
            let near: Near = nearest_to(&cast.surface, &cast.tree, &point, f64::INFINITY, None).unwrap();
            prop_assert!((near.distance - distance(&cast.surface, &point)).abs() < ROUNDING_MM);
            // Nearer than this rounding decides.
            prop_assume!(near.distance > 1e-6);
            let round = times_round(&cast.surface, &point);
            prop_assert_eq!(is_behind(&cast.surface, &cast.joins, &near, &point), round > 0.5, "{} {:?}", round, near);
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(16))]

    /// One triangle over a body much smaller than it: its mark is counted point by point.
    #[test]
    fn a_large_triangle_prints_what_points_of_it_do(
        size in 0.5..2.0_f64,
        turn in (-3.0..3.0, -3.0..3.0, -3.0..3.0),
        at in (-3.0..3.0_f64, -3.0..3.0_f64, -1.2..1.2_f64),
        span in 30.0..60.0_f64,
        thickness in 0.02..0.2_f64,
    ) {
        let body = tetrahedron(size, &rotation(turn.0, turn.1, turn.2), &Vector3::new(at.0, at.1, at.2));
        let corners = [[span, 0.0, 0.0], [-span, -span, 0.0], [-span, span, 0.0]];
        let plate = soup(&[corners]);
        let casts = Casts::new(plate, body.clone(), &ToothPlaces::none());
        let film = Film::new(Length::from_mm(thickness)).unwrap();
        let marks = casts.marks(&JawPose::identity(), film).unwrap();
        let area: f64 = marks.iter().filter(|mark| mark.arch == Arch::Upper).map(|mark| mark.area_mm2).sum();
        // Squares in the middle of which lies a point: all of the body is over the triangle.
        const STEP_MM: f64 = 0.04;
        let reach = size * 3.0_f64.sqrt() + thickness;
        let steps = (2.0 * reach / STEP_MM).ceil();
        let mut counted = 0.0;
        for column in 0..steps as u32 {
            for row in 0..steps as u32 {
                let along = |start: f64, step: u32| start - reach + (f64::from(step) + 0.5) * STEP_MM;
                let point = Vector3::new(along(at.0, column), along(at.1, row), 0.0);
                if distance(&body, &point) <= thickness || times_round(&body, &point) > 0.5 {
                    counted += STEP_MM * STEP_MM;
                }
            }
        }
        // Squares are cut by the edge, by a twentieth of a square along it; and over a tip, where distances are
        // far from linear, the parts of a mark may lose one part's area.
        let grain = 0.25 * thickness;
        let rough = 0.05 * STEP_MM * (reach * 4.0) + 0.02 * counted + 0.01 + grain;
        prop_assert!((area - counted).abs() < rough, "{area} mm², by points {counted}");
    }
}

/// A plate of two triangles over a ball of 1 mm: a film h prints π ((R + h)² − R²) on the plate.
#[test]
fn two_large_triangles_print_what_many_small_ones_do() {
    const RADIUS_MM: f64 = 1.0;
    for parts in [1, 2, 40] {
        let plate = shifted(sheet(parts, [50.0, 60.0], false, |_, _| 0.0), Vector3::new(72.0, 3.0, 0.0));
        let ball = shifted(sphere(RADIUS_MM, 200), Vector3::new(60.3, 9.1, -RADIUS_MM));
        let casts = Casts::new(plate, ball, &ToothPlaces::none());
        let films: Vec<Film> = [0.008, 0.1].map(|mm| Film::new(Length::from_mm(mm)).unwrap()).to_vec();
        let all = casts.marks_of(&JawPose::identity(), &films).unwrap();
        for (film, marks) in films.iter().zip(all) {
            let h = film.thickness().mm();
            let disc = PI * ((RADIUS_MM + h) * (RADIUS_MM + h) - RADIUS_MM * RADIUS_MM);
            let area: f64 =
                marks.iter().filter(|mark| mark.arch == Arch::Upper).map(|mark| mark.area_mm2).sum();
            // 0.0505 and 0.660 mm². The ball in 200 steps lies within the true one by up to 0.0001 mm.
            assert!((area / disc - 1.0).abs() < 0.03, "{parts} parts, film {h}: {area} mm², true {disc}");
            assert_eq!(marks, casts.marks(&JawPose::identity(), *film).unwrap(), "alone and with others");
        }
    }
}

/// A base closed by one fan, as some programs write it.
#[test]
fn a_fan_about_one_corner_has_an_inside() {
    const RIM: u32 = 2_000;
    let ring = |z: f64| {
        (0..RIM).map(move |at| {
            let (sin, cos) = (f64::from(at) * 2.0 * PI / f64::from(RIM)).sin_cos();
            Vector3::new(70.0 + 25.0 * cos, 25.0 * sin, z)
        })
    };
    let vertices: Vec<_> = ring(0.0)
        .chain(ring(10.0))
        .chain([Vector3::new(70.0, 0.0, 0.0), Vector3::new(70.0, 0.0, 10.0)])
        .collect();
    let triangles = (0..RIM).flat_map(|at| {
        let (next, up) = ((at + 1) % RIM, RIM);
        [
            [2 * RIM, next, at],
            [2 * RIM + 1, at + up, next + up],
            [at, next, at + up],
            [next, next + up, at + up],
        ]
    });
    let drum = Surface::new(vertices, triangles.collect()).unwrap();
    let casts = Casts::new(drum.clone(), drum, &ToothPlaces::none());
    let cast = casts.cast(Arch::Upper);
    for (z, is_inside) in [(0.5, true), (-0.5, false), (9.5, true), (10.5, false)] {
        // Nearest to the corner of all 2,000.
        let point = Vector3::new(70.0, 0.0, z);
        let near = nearest_to(&cast.surface, &cast.tree, &point, f64::INFINITY, None).unwrap();
        assert!((near.distance - 0.5).abs() < ROUNDING_MM, "{near:?}");
        assert_eq!(is_behind(&cast.surface, &cast.joins, &near, &point), is_inside, "{z}");
    }
}

/// Far below what is allowed, so that no cast in place is refused.
#[test]
fn a_full_arch_takes_a_tenth_of_the_distances_allowed() {
    let made = InventedCasts::dentate().make(LEVEL).unwrap();
    let casts = Casts::new(made.upper, made.lower, &ToothPlaces::none());
    let films = Film::THICKNESSES.map(|thickness| Film::new(thickness).unwrap());
    let mut print = Print::of(&casts, &JawPose::identity(), &films);
    for arch in [Arch::Upper, Arch::Lower] {
        assert!(print.on(arch).unwrap().iter().any(|printed| !printed.is_empty()));
    }
    assert!(print.distances * 10 < print.most, "{} of {}", print.distances, print.most);
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(12))]

    /// What a quick look leaves to be printed on holds every triangle that has a point within the film, or
    /// behind the other surface and over it.
    #[test]
    fn no_triangle_that_prints_is_left_out(
        seeds in (0u64..1000, 0u64..1000),
        turn in (-0.1..0.1, -0.1..0.1, -0.1..0.1),
        drop in 0.5_f64..4.0,
        thickness in 0.06..0.4_f64,
    ) {
        const PARTS: u32 = 6;
        let casts = Casts::new(hills(seeds.0, 12, false), hills(seeds.1, 13, true), &ToothPlaces::none());
        let turned = rotation(turn.0, turn.1, turn.2);
        let jaw = pose(turned, Vector3::new(0.0, 0.0, -drop));
        let film = Film::new(Length::from_mm(thickness)).unwrap();
        let mut print = Print::of(&casts, &jaw, &[film]);
        let printed = print.on(Arch::Upper).unwrap().remove(0);
        let upper = casts.surface(Arch::Upper);
        let lower = shifted(
            casts.surface(Arch::Lower).clone().moved(|vertex| turned * vertex).unwrap(),
            Vector3::new(0.0, 0.0, -drop),
        );
        for triangle in 0..upper.triangles().len() {
            let [a, b, c] = upper.corners(triangle);
            let least = (0..=PARTS).flat_map(|one| (0..=PARTS - one).map(move |other| (one, other)))
                .map(|(one, other)| {
                    let [one, other] = [one, other].map(|part| f64::from(part) / f64::from(PARTS));
                    distance(&lower, &(a + (b - a) * one + (c - a) * other))
                })
                .fold(f64::INFINITY, f64::min);
            // Far enough within that the edge of the mark is not told by a straight line alone.
            if least < thickness - 0.05 {
                let at = u32::try_from(triangle).unwrap();
                prop_assert!(printed.iter().any(|print| print.triangle == at), "triangle {}, {} mm", triangle, least);
            }
        }
    }
}

/// Surfaces crossing each other all over are refused by what it takes, not by the clock.
#[test]
fn casts_that_cross_along_metres_are_refused() {
    let comb = |along_x: bool| {
        let walls = 60;
        let mut vertices = Vec::new();
        for at in 0..walls {
            let aside = f64::from(at) - f64::from(walls) / 2.0;
            for (along, z) in [(-30.0, -10.0), (30.0, -10.0), (30.0, 10.0), (-30.0, 10.0)] {
                vertices.push(if along_x {
                    Vector3::new(along, aside, z)
                } else {
                    Vector3::new(aside, along, z)
                });
            }
        }
        let faces = (0..walls as u32)
            .flat_map(|at| [[4 * at, 4 * at + 1, 4 * at + 2], [4 * at, 4 * at + 2, 4 * at + 3]]);
        Surface::new(vertices, faces.collect()).unwrap()
    };
    let casts = Casts::new(comb(true), comb(false), &ToothPlaces::none());
    let film = Film::new(Film::THINNEST).unwrap();
    let mut print = Print::of(&casts, &JawPose::identity(), &[film]);
    // What is allowed would take a minute here; a part of it runs out as well.
    print.most = 20_000;
    assert!(print.on(Arch::Upper).unwrap_err().to_string().contains("more than 20000 distances"));
}
