//! The scene of balanced dentures, held to what its head says by the distances between its surfaces: no
//! verdict of the program's is asked.

use std::sync::Arc;

use sim_core::cast::{Casts, LastPairs, Nearest, ToothPlaces};
use sim_core::cusp::{Arch, Tooth};
use sim_core::excursion::{Mechanism, Movement, Station};
use sim_core::frame::Side;
use sim_core::scene::Scene;
use sim_core::setting::Change;
use sim_core::units::Length;

/// The film that the head speaks of, in millimetres.
const FILM_MM: f64 = 0.04;
/// Advances from 0.5 to 3 mm at which it is looked, a quarter of a millimetre apart.
const LOOKS: std::ops::RangeInclusive<u32> = 2..=12;

fn scene(changes: &[&str]) -> Scene {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/../scenes/denture_casts.ron");
    let mut scene = Scene::from_ron(&std::fs::read_to_string(path).expect("the scene")).expect("a scene");
    for change in changes {
        change.parse::<Change>().expect("a change").make(&mut scene).expect("a change of this scene");
    }
    scene
}

/// Where a pair of teeth stands: in protrusion in front or at the back of one side, else on one side.
fn region(movement: Movement, upper: Tooth, nearest: &Nearest) -> usize {
    let is_back = |tooth: Tooth| tooth.position() > 3;
    let back = is_back(upper) || nearest.lower_tooth.is_some_and(is_back);
    match (movement, upper.side()) {
        (Movement::Protrusive, _) if !back => 0,
        (_, Side::Right) => 1,
        (_, Side::Left) => 2,
    }
}

/// The greatest distance from contact over all looks, by region: front (of protrusion), right, left.
fn farthest(scene: &Scene, movement: Movement, looks: std::ops::RangeInclusive<u32>) -> [f64; 3] {
    let invented = scene.invented_casts.as_ref().expect("invented casts");
    let pair = invented.make(scene.occlusal_plane).expect("a pair");
    let casts = Arc::new(Casts::new(pair.upper, pair.lower, &ToothPlaces::none()));
    let mechanism = Mechanism::new(&scene.instrument).with_casts(Arc::clone(&casts));
    let mut farthest: [f64; 3] = [0.0; 3];
    for look in looks {
        let station = Station::advanced(Length::from_mm(0.25 * f64::from(look)));
        let jaw = mechanism.at(movement, station).expect("teeth guide").jaw;
        let reading = casts.measure(&jaw, scene.occlusal_plane, &mut LastPairs::default());
        let mut nearest = [f64::INFINITY; 3];
        for own in reading.teeth.iter().filter(|own| own.tooth.arch() == Arch::Upper) {
            let region = region(movement, own.tooth, &own.distance);
            nearest[region] = nearest[region].min(own.distance.gap.mm());
        }
        // To the sides there is no region in front.
        let asked = usize::from(movement != Movement::Protrusive)..3;
        for region in asked {
            farthest[region] = farthest[region].max(nearest[region]);
        }
    }
    farthest
}

const RIGHT: Movement = Movement::Lateral { working: Side::Right };
const LEFT: Movement = Movement::Lateral { working: Side::Left };

#[test]
fn every_region_stays_in_contact_in_every_excursion() {
    let scene = scene(&[]);
    for movement in [Movement::Protrusive, RIGHT, LEFT] {
        let farthest = farthest(&scene, movement, LOOKS);
        println!("{}: {farthest:?} mm from contact at most", movement.name());
        assert!(farthest.iter().all(|apart| *apart < FILM_MM), "{}: {farthest:?}", movement.name());
    }
}

#[test]
fn each_thing_that_balance_leans_on_is_missed_when_it_is_taken_away() {
    let end = || 12..=12;
    let without = |change: &str| scene(&[change, "invented_casts.fineness_mm=0.8"]);
    let flat = farthest(&without("invented_casts.sagittal_curve_radius_mm=0"), Movement::Protrusive, end());
    assert!(flat[1] > 2.0 * FILM_MM && flat[2] > 2.0 * FILM_MM, "back teeth part: {flat:?}");
    let level = farthest(&without("invented_casts.transverse_curve_radius_mm=0"), RIGHT, end());
    assert!(level[2] > 2.0 * FILM_MM, "the orbiting side parts: {level:?}");
    let clear = farthest(&without("invented_casts.front_clearance_mm=1"), Movement::Protrusive, 4..=4);
    assert!(clear[0] > 2.0 * FILM_MM, "the front stands clear after a millimetre: {clear:?}");
}
