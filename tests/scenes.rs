//! The scenes that people open: sound, invented, solved to their ends, and teaching what they say.

use std::fs;
use std::path::PathBuf;

use sim_core::cusp::Gauges;
use sim_core::excursion::Mechanism;
use sim_core::scene::Scene;

fn folder() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../scenes")
}

fn read(name: &str) -> Scene {
    let text = fs::read_to_string(folder().join(name)).expect("a scene file");
    Scene::from_ron(&text).unwrap_or_else(|error| panic!("{name}: {error}"))
}

/// Separation of every cusp at the end of every excursion, in millimetres.
fn separations(scene: &Scene) -> Vec<Vec<f64>> {
    let mechanism = Mechanism::new(&scene.instrument);
    let gauges = Gauges::new(scene.occlusal_plane, &scene.cusps);
    let end = |excursion| {
        let motion = mechanism.motion(excursion, scene.samples);
        assert_eq!(motion.stopped(), None, "{}", scene.title);
        let last = motion.placements().last().expect("a last sample").jaw;
        gauges.read(&last).map(|reading| reading.separation.in_mm()).collect()
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
        assert!((separation / (92.0 - x) - protruded[0] / 2.0).abs() < 1e-9, "at {x} mm");
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
    assert!(greatest > 0.1, "{greatest} mm");
}
