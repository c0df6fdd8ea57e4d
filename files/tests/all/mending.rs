//! What scans are full of is mended, and the report says so.

use nalgebra::Vector3;
use proptest::prelude::*;
use sim_core::cast::{MendError, Soup, WELD, facing, mend, toward_opposing};
use sim_core::cusp::{Arch, Tooth};

use super::shapes::{Body, area, ball, block, soup, together, volume};

/// Rounding in sums over some thousand triangles in another order.
const PART: f64 = 1e-12;

fn mended(body: Body) -> (sim_core::cast::Surface, sim_core::cast::MendReport) {
    mend(soup(body), Arch::Lower).expect("a surface")
}

/// A sheet of so many squares a side, 1 mm each, facing up, with a bump in the middle.
fn sheet(side: u32) -> Body {
    let vertices = (0..=side)
        .flat_map(|y| (0..=side).map(move |x| (f64::from(x), f64::from(y))))
        .map(|(x, y)| Vector3::new(x, y, (x * y / f64::from(side)).sin()))
        .collect();
    let at = |x: u32, y: u32| y * (side + 1) + x;
    let triangles = (0..side)
        .flat_map(|y| (0..side).map(move |x| (x, y)))
        .flat_map(|(x, y)| {
            [[at(x, y), at(x + 1, y), at(x + 1, y + 1)], [at(x, y), at(x + 1, y + 1), at(x, y + 1)]]
        })
        .collect();
    (vertices, triangles)
}

/// Triangles with corners of their own, as STL has them.
fn apart((vertices, triangles): &Body) -> Body {
    let corners = triangles.iter().flatten().map(|&index| vertices[index as usize]).collect();
    (corners, (0..triangles.len() as u32).map(|at| [3 * at, 3 * at + 1, 3 * at + 2]).collect())
}

#[test]
fn a_clean_body_stays_as_it_is() {
    let body = ball(30.0, 3);
    let (surface, report) = mended(body.clone());
    assert_eq!((surface.vertices(), surface.triangles()), (&body.0[..], &body.1[..]));
    assert_eq!(words::verdict::mend::warnings(&report), Vec::<String>::new());
    assert_eq!(
        words::verdict::mend::sentences(&report).join("\n"),
        "Read 512 triangles and 258 vertices; kept 512 triangles and 258 vertices.\n\
         Shells: 1, of which closed: 1; open borders: 0, 0.0 mm long in all."
    );
}

#[test]
fn vertices_merge_within_the_weld_and_not_beyond() {
    let weld = WELD.mm();
    for (gap, merged) in [(0.0, 1), (weld * 0.9, 1), (weld * 1.1, 0), (-weld * 0.9, 1), (-weld * 1.1, 0)] {
        for axis in 0..3 {
            // The gap straddles a wall of the cells that near vertices are looked up in, too.
            for shift in [0.0, 4.0 * weld * 123.0, -4.0 * weld * 7.0, 0.37] {
                let mut vertices = sheet(1).0;
                vertices.iter_mut().for_each(|vertex| vertex[axis] += shift);
                let mut copy = vertices[3];
                copy[axis] += gap;
                vertices.push(copy);
                let (_, report) = mended((vertices, vec![[0, 1, 3], [0, 4, 2]]));
                assert_eq!(
                    report.vertices_merged_near + report.vertices_merged_same,
                    merged,
                    "{gap} {axis} {shift}"
                );
                assert_eq!(report.shells, 2 - merged);
            }
        }
    }
}

#[test]
fn both_zeros_are_one_place() {
    let (vertices, _) = sheet(1);
    let mut all = vertices.clone();
    all.extend(vertices.iter().map(|vertex| vertex.map(|number| if number == 0.0 { -0.0 } else { number })));
    let (_, report) = mended((all, vec![[0, 1, 3], [4, 7, 6]]));
    assert_eq!((report.vertices_merged_same, report.vertices_merged_near, report.shells), (4, 0, 1));
}

#[test]
fn triangles_without_area_those_there_twice_and_unused_vertices_go() {
    let (mut vertices, mut triangles) = block(60.0, 50.0, 20.0);
    vertices.push(Vector3::new(1.0, 2.0, 3.0));
    triangles.extend([[0, 0, 1], [5, 5, 5]]);
    triangles.extend([[2, 3, 0], [0, 3, 2], [0, 2, 3]]);
    let (surface, report) = mended((vertices, triangles));
    assert_eq!((report.triangles_degenerate, report.triangles_twice, report.vertices_unused), (2, 3, 1));
    assert_eq!((surface.triangles().len(), surface.vertices().len()), (12, 8));
    assert_eq!((volume(&surface), report.closed_shells), (60_000.0, 1));
    assert_eq!(
        words::verdict::mend::warnings(&report),
        ["Triangles without area, taken out: 2.", "Triangles there twice, taken out: 3."]
    );
}

#[test]
fn a_needle_between_two_triangles_is_cut_the_other_way_and_the_body_stays_closed() {
    // The middle of the edge from corner 0 to corner 3 becomes a corner of one of its triangles only,
    // and a needle fills the place between.
    let (mut vertices, mut triangles) = block(60.0, 50.0, 20.0);
    let middle = vertices.len() as u32;
    vertices.push((vertices[0] + vertices[3]) / 2.0);
    assert_eq!(triangles[..2], [[0, 2, 3], [0, 3, 1]]);
    triangles.splice(0..1, [[0, 2, middle], [middle, 2, 3], [0, middle, 3]]);
    let (surface, report) = mended((vertices, triangles));
    assert_eq!((report.needles_swapped, report.triangles_degenerate), (1, 0));
    assert_eq!((report.closed_shells, report.borders, report.crowded_edges), (1, 0, 0));
    assert_eq!((volume(&surface), area(&surface)), (60_000.0, 10_400.0));
    assert_eq!(surface.triangles().len(), 14);
}

#[test]
fn a_needle_at_a_border_goes() {
    let (mut vertices, mut triangles) = sheet(4);
    // In line with the first side of the sheet and beyond it, so that the long side is open.
    vertices.push(Vector3::new(-10.0, 0.0, 0.0));
    triangles.push([1, 0, vertices.len() as u32 - 1]);
    let (surface, report) = mended((vertices, triangles));
    assert_eq!((report.triangles_degenerate, report.needles_swapped, report.vertices_unused), (1, 0, 1));
    assert_eq!(surface.triangles(), sheet(4).1);
}

#[test]
fn two_needles_on_one_another_have_an_outcome() {
    let vertices = [(0.0, 0.0), (10.0, 0.0), (4.0, 0.0), (6.0, 0.0), (5.0, 30.0), (5.0, -30.0)]
        .map(|(x, y)| Vector3::new(x, y, 0.0));
    let triangles = vec![[0, 1, 2], [1, 0, 3], [0, 2, 4], [2, 1, 4], [3, 0, 5], [1, 3, 5]];
    let (surface, report) = mended((vertices.to_vec(), triangles));
    assert!(report.triangles_degenerate + report.needles_swapped > 0);
    assert!((area(&surface) - 300.0).abs() < 1e-9, "{}", area(&surface));
}

#[test]
fn a_body_inside_out_is_turned() {
    let (vertices, triangles) = ball(30.0, 2);
    let inside_out = triangles.iter().map(|&[a, b, c]| [a, c, b]).collect();
    let (surface, report) = mended((vertices.clone(), inside_out));
    assert_eq!((report.closed_shells_turned, report.triangles_turned), (1, 0));
    assert!(volume(&surface) > 0.0);
    assert_eq!(surface.vertices(), vertices);
}

#[test]
fn bodies_beside_each_other_all_face_outward_and_hollows_face_inward() {
    let inside_out = |(vertices, triangles): Body| -> Body {
        (vertices, triangles.into_iter().map(|[a, b, c]| [a, c, b]).collect())
    };
    let of = |radius: f64| volume(&mended(ball(radius, 2)).0);
    let beside = Vector3::new(80.0, 0.0, 0.0);

    // A die beside the arch, inside out.
    let (surface, report) = mended(together(ball(30.0, 2), inside_out(ball(10.0, 2)), beside));
    assert_eq!((report.closed_shells, report.closed_shells_turned, report.hollows), (2, 1, 0));
    assert!((volume(&surface) / (of(30.0) + of(10.0)) - 1.0).abs() < PART);

    // A model printed hollow, as it should be and inside out as a whole.
    let hollow = || together(ball(30.0, 2), inside_out(ball(20.0, 2)), Vector3::zeros());
    for (body, turned) in [(hollow(), 0), (inside_out(hollow()), 2)] {
        let (surface, report) = mended(body);
        assert_eq!((report.closed_shells, report.closed_shells_turned, report.hollows), (2, turned, 1));
        assert!((volume(&surface) / (of(30.0) - of(20.0)) - 1.0).abs() < PART);
    }
    // A shell inside another that faces outward is no hollow.
    let (_, report) = mended(together(ball(30.0, 2), ball(20.0, 2), Vector3::zeros()));
    assert_eq!((report.closed_shells_turned, report.hollows), (0, 0));
}

#[test]
fn stray_islands_go_but_a_die_stays() {
    let far = Vector3::new(70.0, 0.0, 0.0);
    let (surface, report) = mended(together(ball(30.0, 3), ball(0.5, 1), far));
    assert_eq!((report.islands.count, report.islands.triangles, report.shells), (1, 32, 1));
    let whole = area(&mended(ball(0.5, 1)).0);
    assert!((report.islands.area_mm2 / whole - 1.0).abs() < PART);
    assert_eq!(report.islands.largest_mm2, report.islands.area_mm2);
    assert_eq!(surface.triangles(), ball(30.0, 3).1);
    assert_eq!(
        words::verdict::mend::warnings(&report),
        [format!(
            "Stray islands, taken out: 1 (32 triangles, {whole:.2} mm² in all, the largest {whole:.2} mm²)."
        )]
    );
    // A lower incisor's die has over 100 mm², under 1 % of a large model's area.
    let die = block(5.0, 6.0, 9.0);
    let (_, report) = mended(together(block(90.0, 80.0, 60.0), die, Vector3::new(100.0, 0.0, 0.0)));
    assert_eq!((report.islands.count, report.shells), (0, 2));
    // A small part of a small body is no island.
    let (_, report) = mended(together(block(2.0, 2.0, 2.0), block(1.0, 1.0, 1.0), far));
    assert_eq!((report.islands.count, report.shells), (0, 2));
}

#[test]
fn borders_are_counted_and_measured() {
    // A box without its lid and its floor has two borders, each round 60 by 50.
    let (vertices, triangles) = block(60.0, 50.0, 20.0);
    let (_, report) = mended((vertices.clone(), triangles[4..].to_vec()));
    assert_eq!((report.shells, report.closed_shells, report.borders), (1, 0, 2));
    assert_eq!(report.border_length.mm(), 440.0);
    // Two triangles that meet at a vertex only are two shells with one border.
    let (_, report) = mended((sheet(2).0, vec![[0, 1, 4], [4, 8, 7]]));
    assert_eq!((report.shells, report.borders), (2, 1));
}

#[test]
fn an_edge_of_three_triangles_and_a_surface_of_one_side_are_said() {
    let (mut vertices, mut triangles) = sheet(3);
    vertices.push(Vector3::new(0.5, 0.5, 9.0));
    triangles.push([5, 6, vertices.len() as u32 - 1]);
    let (_, report) = mended((vertices, triangles));
    assert_eq!((report.crowded_edges, report.one_sided_edges, report.shells), (1, 0, 1));

    // A band of twelve squares, turned over once before its ends are joined.
    let count = 12_u32;
    let vertices = (0..count)
        .flat_map(|at| {
            let angle = f64::from(at) / f64::from(count) * std::f64::consts::TAU;
            let out = Vector3::new(angle.cos(), angle.sin(), 0.0);
            let across = (out * (angle / 2.0).cos() + Vector3::z() * (angle / 2.0).sin()) * 8.0;
            [out * 30.0 + across, out * 30.0 - across]
        })
        .collect();
    let triangles = (0..count)
        .flat_map(|at| {
            let [a, b] = [2 * at, 2 * at + 1];
            let [c, d] = if at + 1 < count { [a + 2, b + 2] } else { [1, 0] };
            [[a, c, b], [b, c, d]]
        })
        .collect();
    let (_, report) = mended((vertices, triangles));
    assert_eq!(report.one_sided_edges, 1);
    assert_eq!((report.closed_shells, report.borders), (0, 1));
}

#[test]
fn an_open_cast_faces_the_other_arch_once_it_stands_in_the_instrument() {
    let up = Vector3::z();
    let (surface, report) = mended(sheet(8));
    assert_eq!(report.triangles_turned, 0);
    assert!(facing(&surface, &up) > 0.99 && facing(&surface, &-up) < -0.99);
    assert_eq!(facing(&surface, &Vector3::zeros()), 0.0);
    let (lower, turned) = toward_opposing(surface.clone(), Arch::Lower);
    assert_eq!((turned, &lower), (0, &surface));
    let (upper, turned) = toward_opposing(surface, Arch::Upper);
    assert_eq!(turned, 1);
    assert!(facing(&upper, &up) < -0.99);
    // A closed body faces everywhere and is left.
    let (closed, _) = mended(ball(30.0, 2));
    assert!(facing(&closed, &up).abs() < PART);
    for arch in [Arch::Upper, Arch::Lower] {
        assert_eq!(toward_opposing(closed.clone(), arch), (closed.clone(), 0));
    }
}

#[test]
fn colours_and_labels_go_with_their_vertices_and_triangles() {
    let (vertices, triangles) = apart(&ball(30.0, 1));
    let colour = |vertex: &Vector3<f64>| (*vertex).map(|number| (number + 60.0) as u8).into();
    let tooth = |corner: &Vector3<f64>| Tooth::new(if corner.x > 0.0 { 36 } else { 46 }).ok();
    let colours = vertices.iter().map(colour).collect();
    let teeth =
        triangles.iter().map(|&[a, b, _]| tooth(&((vertices[a as usize] + vertices[b as usize]) / 2.0)));
    let soup = Soup { colours: Some(colours), teeth: Some(teeth.collect()), vertices, triangles };
    let (surface, _) = mend(soup, Arch::Lower).expect("a surface");
    assert_eq!(surface.vertices().len(), 18);
    let colours = surface.colours().expect("colours");
    assert!(surface.vertices().iter().zip(colours).all(|(vertex, given)| colour(vertex) == *given));
    assert_eq!(surface.teeth().expect("labels").len(), surface.triangles().len());
}

#[test]
fn what_cannot_be_a_surface_is_refused() {
    let refused = |soup: Soup| mend(soup, Arch::Lower).expect_err("refused");
    let (vertices, triangles) = block(60.0, 50.0, 20.0);
    assert!(matches!(refused(Soup::default()), MendError::Unsound(_)));
    assert!(matches!(refused(soup((vertices.clone(), vec![[0, 1, 8]]))), MendError::Unsound(_)));
    assert_eq!(refused(soup((vertices.clone(), vec![[0, 1, 1]]))), MendError::NoArea { read: 1 });
    let far = vertices.iter().map(|vertex| vertex.add_scalar(2e6)).collect();
    assert!(matches!(refused(soup((far, triangles.clone()))), MendError::TooFar { vertex: 1, .. }));
    let uneven = Soup { colours: Some(vec![[0; 3]]), ..soup((vertices, triangles)) };
    assert!(matches!(refused(uneven), MendError::Unsound(_)));
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    #[test]
    fn a_body_split_shuffled_and_turned_about_is_the_same_body(
        order in Just((0..128_usize).collect::<Vec<_>>()).prop_shuffle(),
        turned in prop::collection::vec(any::<bool>(), 128),
        first in prop::collection::vec(0..3_usize, 128),
    ) {
        // Each triangle with corners of its own, in any order, begun at any corner, half of them turned.
        let body = ball(30.0, 2);
        let (whole, _) = mended(body.clone());
        let mut triangles: Vec<[u32; 3]> = order.iter().map(|&at| body.1[at]).collect();
        let count = turned.iter().filter(|&&turned| turned).count();
        for ((triangle, turned), first) in triangles.iter_mut().zip(turned).zip(first) {
            triangle.rotate_left(first);
            if turned {
                triangle.swap(0, 1);
            }
        }
        let (surface, report) = mended(apart(&(body.0, triangles)));
        prop_assert!((area(&surface) / area(&whole) - 1.0).abs() < PART);
        prop_assert!((volume(&surface) / volume(&whole) - 1.0).abs() < PART);
        prop_assert_eq!((report.shells, report.closed_shells, report.borders), (1, 1, 0));
        prop_assert_eq!(surface.vertices().len(), whole.vertices().len());
        // The side of less area is turned, and then the whole, if that was the outer side.
        let inner = report.closed_shells_turned == 1;
        prop_assert_eq!(report.triangles_turned, if inner { 128 - count } else { count });
    }

    #[test]
    fn what_stays_of_a_swarm_is_apart_and_what_went_was_near(
        swarm in prop::collection::vec(prop::array::uniform3(-8.0..8.0_f64), 1..30),
        shift in prop::array::uniform3(-40.0..40.0_f64),
    ) {
        // Each point with the same two far corners, so that none of the triangles is a needle; few enough layers to pass
        // for a surface.
        let mut vertices: Vec<Vector3<f64>> = vec![Vector3::new(50.0, 0.0, 0.0), Vector3::new(0.0, 50.0, 0.0)];
        vertices.extend(swarm.iter().map(|&point| Vector3::from(point) * WELD.mm()));
        vertices.iter_mut().for_each(|vertex| *vertex += Vector3::from(shift));
        let triangles = (2..vertices.len() as u32).map(|point| [0, 1, point]).collect();
        let (surface, report) = mended((vertices.clone(), triangles));
        let kept = surface.vertices();
        prop_assert_eq!(kept.len() + report.vertices_merged_near, vertices.len());
        for (at, one) in kept.iter().enumerate() {
            prop_assert!(kept[..at].iter().all(|other| (one - other).norm() > WELD.mm()));
        }
        for given in &vertices {
            prop_assert!(kept.iter().any(|kept| (given - kept).norm() <= WELD.mm()));
        }
    }

    #[test]
    fn triangles_turned_in_an_open_sheet_are_turned_back(
        places in prop::collection::btree_set(0..288_usize, 0..40),
    ) {
        let (vertices, mut triangles) = sheet(12);
        let original = triangles.clone();
        for &at in &places {
            triangles[at].swap(1, 2);
        }
        let (surface, report) = mended((vertices, triangles));
        prop_assert_eq!(surface.triangles(), original);
        prop_assert_eq!(report.triangles_turned, places.len());
    }

    #[test]
    fn mending_what_is_mended_changes_nothing(
        seed in prop::collection::vec((0..60_u32, 0..60_u32, 0..60_u32), 1..80),
    ) {
        // Any triangles over the vertices of a ball: branched, one-sided, crossed.
        let (vertices, _) = ball(30.0, 2);
        let triangles = seed.into_iter().map(|(a, b, c)| [a, b, c]).collect();
        let Ok((once, first)) = mend(soup((vertices, triangles)), Arch::Lower) else { return Ok(()) };
        let (twice, second) = mended((once.vertices().to_vec(), once.triangles().to_vec()));
        prop_assert_eq!(&twice, &once);
        prop_assert_eq!(second.triangles_turned + second.closed_shells_turned + second.islands.count, 0);
        prop_assert_eq!((first.shells, first.borders, first.closed_shells), (second.shells, second.borders, second.closed_shells));
    }
}
