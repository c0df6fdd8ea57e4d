//! The scenes that people open: sound, invented, solved to their ends, and teaching what they say.

use std::fs;
use std::path::PathBuf;
use std::sync::Arc;

use sim_core::cast::{Casts, ToothPlaces};
use sim_core::cusp::Gauges;
use sim_core::excursion::Movement;
use sim_core::frame::Side;
use sim_core::occlusion::{Intended, InterferenceSearch, Mounted, Scheme, Stretch};
use sim_core::scene::Scene;
use sim_core::setting::Change;
use whole_checks::tolerance::SOLVED;

/// What the two designs part by once the pin is let down: enough to be seen.
const PART_MM: f64 = 0.1;
/// “Until the cusps are too steep”: canines guide nearly all of the way, dentures are balanced over most.
const NEARLY_ALL: f64 = 0.95;
const MOST: f64 = 0.8;
/// How far back teeth are apart at the end of protrusion with the curve that the file gives, and without.
const WITH_CURVE_MM: f64 = 0.2;
const WITHOUT_CURVE_MM: f64 = 0.35;
/// The file says some 0.15 mm.
const IN_THE_WAY_MM: (f64, f64) = (0.2, 0.3);

fn folder() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../scenes")
}

fn read(name: &str) -> Scene {
    let text = fs::read_to_string(folder().join(name)).expect("a scene file");
    Scene::from_ron(&text).unwrap_or_else(|error| panic!("{name}: {error}"))
}

/// The scene's instrument with its invented casts on it.
fn mounted(scene: &Scene) -> Option<Mounted> {
    let pair = scene.clone().invent_casts().expect("casts that can be made")?;
    let casts = Arc::new(Casts::new(pair.upper, pair.lower, &ToothPlaces::of(&pair.cusps)));
    Some(Mounted::new(scene.instrument.clone(), casts, scene.occlusal_plane))
}

#[test]
fn the_scene_that_is_compiled_in_is_the_file_that_people_open() {
    let text = fs::read_to_string(folder().join("thirty_degree.ron")).expect("a scene file");
    assert!(text == sim_core::scene::THIRTY_DEGREE, "sim-core/src/scene/thirty_degree.ron is not its copy");
}

/// Separation of every cusp at the end of every excursion, in millimetres.
fn separations(scene: &Scene) -> Vec<Vec<f64>> {
    let mut mechanism = scene.mechanism();
    if let Some(mounted) = mounted(scene) {
        mechanism = mechanism.with_casts(Arc::clone(mounted.casts()));
    }
    let gauges = Gauges::new(scene.occlusal_plane, &scene.cusps);
    let end = |excursion| {
        let motion = mechanism.motion(excursion, scene.samples);
        assert_eq!(motion.stopped(), None, "{}", scene.title);
        let last = motion.placements().last().expect("a last sample").jaw;
        gauges.read(&last).map(|reading| reading.separation.mm()).collect()
    };
    scene.excursions.iter().map(end).collect()
}

#[test]
fn every_scene_is_read_solved_to_its_end_and_says_that_it_is_invented() {
    let mut count = 0;
    for entry in fs::read_dir(folder()).expect("the folder of scenes") {
        let path = entry.expect("an entry").path();
        // Cases have a folder of their own, and checks of their own.
        if path.is_dir() {
            continue;
        }
        let text = fs::read_to_string(&path).expect("text");
        assert!(text.starts_with("// What it teaches: "), "{}", path.display());
        assert!(text.contains("Invented for teaching"), "{}", path.display());
        let scene = read(&path.file_name().expect("a name").to_string_lossy());
        assert!(scene.title.contains("(invented)"), "{}", path.display());
        separations(&scene);
        assert_eq!(Scene::from_ron(&scene.to_ron()).expect("its own text"), scene, "{}", path.display());
        count += 1;
    }
    assert!(count >= 5);
}

#[test]
fn back_teeth_part_more_over_steep_guides_and_less_over_shallow_ones() {
    let [shallow, thirty, steep] =
        ["shallow_guides.ron", "thirty_degree.ron", "steep_guides.ron"].map(|name| separations(&read(name)));
    let scene = read("thirty_degree.ron");
    for (row, excursion) in scene.excursions.iter().enumerate() {
        for (column, cusp) in scene.cusps.iter().enumerate() {
            let [less, middle, more] = [&shallow, &thirty, &steep].map(|table| table[row][column]);
            // On the working side the condyle stays: its teeth follow the front guide.
            if excursion.movement().working_side() != Some(cusp.tooth().side()) {
                assert!(less < middle && middle < more, "{}, {}", excursion.movement().name(), cusp.tooth());
            }
        }
    }
}

#[test]
fn the_cleft_of_flat_rims_grows_in_proportion_to_the_distance_from_the_front_edge() {
    let scene = read("flat_rims.ron");
    let protruded = &separations(&scene)[0];
    // The front edge, the incisal point, stands at x = 92 mm; the rim's points as in the file.
    for (separation, x) in protruded.iter().zip([90.0, 72.0, 52.0, 72.0, 52.0]) {
        assert!((separation / (92.0 - x) - protruded[0] / 2.0).abs() < SOLVED, "at {x} mm");
    }
}

#[test]
fn the_two_designs_part_once_the_pin_is_let_down() {
    let (arcon, non_arcon) =
        (separations(&read("opened_arcon.ron")), separations(&read("opened_non_arcon.ron")));
    let greatest = arcon
        .iter()
        .flatten()
        .zip(non_arcon.iter().flatten())
        .map(|(a, b)| (a - b).abs())
        .fold(0.0, f64::max);
    assert!(greatest > PART_MM, "{greatest} mm");
}

const RIGHT: Movement = Movement::Lateral { working: Side::Right };

/// A scene with changes of its settings, its casts made coarser so that they are searched sooner.
fn changed(name: &str, changes: &[&str]) -> Mounted {
    let mut scene = read(name);
    for change in changes.iter().chain(&["invented_casts.fineness_mm=0.8"]) {
        change.parse::<Change>().expect("a change").make(&mut scene).expect("a change of this scene");
    }
    mounted(&scene).expect("casts")
}

/// The scheme that holds over most of an excursion, and its share.
fn scheme(mounted: &Mounted, movement: Movement) -> (Scheme, f64) {
    judged(mounted, movement, Intended::CANINE_GUIDED)
}

fn judged(mounted: &Mounted, movement: Movement, intended: Intended) -> (Scheme, f64) {
    let verdict = mounted.scheme(movement, &Stretch { intended, ..Stretch::default() }).expect("a pose");
    (verdict.scheme, verdict.share)
}

#[test]
fn the_canines_of_the_dentate_scene_guide_until_the_cusps_are_too_steep() {
    let as_it_is = changed("dentate_casts.ron", &[]);
    for working in Side::BOTH {
        let (scheme, share) = scheme(&as_it_is, Movement::Lateral { working });
        assert_eq!(scheme, Scheme::CanineGuided);
        assert!(share > NEARLY_ALL, "{share}");
    }
    assert_eq!(scheme(&as_it_is, Movement::Protrusive).0, Scheme::AnteriorGuided);
    let search = InterferenceSearch::default();
    let interferences = |mounted: &Mounted| mounted.interferences(RIGHT, &search).expect("a pose").found;
    assert!(interferences(&as_it_is).is_empty());
    let steep = interferences(&changed("dentate_casts.ron", &["invented_casts.cusp_angle_deg=40"]));
    let deepest = steep.first().expect("a molar in the way");
    assert!(deepest.teeth().0.is_some_and(|tooth| tooth.position() >= 6), "{deepest:?}");
    assert!((IN_THE_WAY_MM.0..IN_THE_WAY_MM.1).contains(&deepest.upper_reduction.mm()), "{deepest:?}");
}

#[test]
fn the_dentures_are_balanced_by_their_curves_and_not_without_them() {
    let in_balance = |mounted: &Mounted| judged(mounted, RIGHT, Intended::BALANCED);
    let (scheme_as_it_is, share) = in_balance(&changed("denture_casts.ron", &[]));
    assert_eq!(scheme_as_it_is, Scheme::Balanced);
    assert!(share > MOST, "{share}");
    let flat = changed("denture_casts.ron", &["invented_casts.transverse_curve_radius_mm=0"]);
    assert_eq!(in_balance(&flat).0, Scheme::GroupFunction, "the orbiting side parts");
    // How far back teeth are from their antagonists at the end of protrusion, in millimetres.
    let apart = |changes: &[&str]| -> Vec<f64> {
        let scene = read("denture_casts.ron");
        let mounted = changed("denture_casts.ron", changes);
        let mechanism = scene.mechanism().with_casts(Arc::clone(mounted.casts()));
        let motion = mechanism.motion(&scene.excursions[0], scene.samples);
        let end = motion.placements().last().expect("an end").jaw;
        let reading = mounted.casts().measure(&end, scene.occlusal_plane, &mut Default::default());
        let back = reading.teeth.iter().filter(|reading| reading.tooth.position() > 3);
        back.map(|reading| reading.distance.gap.mm()).collect()
    };
    let greatest = |all: &[f64]| all.iter().copied().fold(0.0, f64::max);
    let with_curve = greatest(&apart(&[]));
    assert!(with_curve < WITH_CURVE_MM, "{with_curve}");
    let without = greatest(&apart(&["invented_casts.sagittal_curve_radius_mm=0"]));
    assert!(without > WITHOUT_CURVE_MM, "{without}");
}
