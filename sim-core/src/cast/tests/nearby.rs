//! What is gathered about a place is what its points are nearest to.

use nalgebra::Vector3;
use proptest::prelude::*;

use super::samples::hills;
use crate::cast::nearby::Nearby;
use crate::cast::nearness::nearest_to;
use crate::cast::{Casts, ToothPlaces};
use crate::cusp::Arch;

proptest! {
    #[test]
    fn points_of_a_place_find_among_the_gathered_what_the_tree_finds(
        seed in 0_u64..1000,
        middle in (-10.0..10.0, -10.0..10.0, -2.0..2.0),
        corners in prop::array::uniform3((-0.8..0.8, -0.8..0.8, -0.8..0.8)),
        parts in prop::collection::vec((0.0..1.0_f64, 0.0..1.0_f64), 8),
        (within, seeded) in (prop_oneof![Just(f64::INFINITY), 0.0..6.0_f64], any::<bool>()),
    ) {
        let casts = Casts::new(hills(seed, 10, false), hills(seed, 10, true), &ToothPlaces::none());
        let cast = casts.cast(Arch::Lower);
        let place = corners.map(|(x, y, z)| Vector3::new(middle.0 + x, middle.1 + y, middle.2 + z));
        let of_tree = |point: &Vector3<f64>, within| nearest_to(&cast.surface, &cast.tree, point, within, None);
        let reach = place.iter().map(|corner| of_tree(corner, f64::INFINITY).unwrap().distance).fold(0.0, f64::max)
            + (0..3).map(|at| (place[at] - place[(at + 1) % 3]).norm()).fold(0.0, f64::max);
        let mut nearby = Nearby::default();
        prop_assume!(nearby.gather(&cast.surface, &cast.tree, &place, reach));
        for (one, other) in parts {
            let (one, other) = if one + other > 1.0 { (1.0 - one, 1.0 - other) } else { (one, other) };
            let point = place[0] + (place[1] - place[0]) * one + (place[2] - place[0]) * other;
            let seed = seeded.then_some(0);
            let found = nearby.nearest_to(&cast.surface, &point, within, seed);
            let expected = of_tree(&point, within);
            let told = |near: crate::cast::nearness::Near| (near.triangle, near.distance, near.at);
            prop_assert_eq!(found.map(told), expected.map(told));
        }
    }
}

#[test]
fn what_has_too_much_about_it_is_not_gathered() {
    let casts = Casts::new(hills(1, 20, false), hills(1, 20, true), &ToothPlaces::none());
    let cast = casts.cast(Arch::Lower);
    let place = [[-9.0, -9.0, 3.0], [9.0, -9.0, 3.0], [0.0, 9.0, 3.0]].map(Vector3::from);
    let mut nearby = Nearby::default();
    assert!(!nearby.gather(&cast.surface, &cast.tree, &place, 4.0));
    assert!(nearby.gather(&cast.surface, &cast.tree, &[place[0]; 3], 1.0));
}
