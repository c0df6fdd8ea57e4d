//! The invented cases that people open: as they were made, sound, and giving back what they were made
//! from.
//!
//! To make the files anew after a change of the generator:
//! `cargo test -p whole-checks --test cases -- --ignored`.

use std::fs;
use std::path::PathBuf;

use sim_core::excursion::Mechanism;
use sim_core::frame::Side;
use sim_core::record::Case;
use whole_checks::invented_bench::{self, BENCH};
use whole_checks::invented_cases::{self, DENTATE, EDENTULOUS, FAULTY, InventedFile, Truth};

/// A setting farther off than this many of its standard errors would be a fault: one in some 370
/// would be by chance, and the noise of these files is drawn once and for all.
const STANDARD_ERRORS: f64 = 3.0;

fn files() -> impl Iterator<Item = InventedFile> {
    invented_cases::all().into_iter().chain([invented_bench::bench()])
}

fn folder() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../scenes/cases")
}

fn read(name: &str) -> Case {
    let text = fs::read_to_string(folder().join(name)).unwrap();
    Case::from_ron(&text).unwrap_or_else(|error| panic!("{name}: {error}"))
}

#[test]
#[ignore = "writes the files; the other tests hold them to what it writes"]
fn write_the_files_anew() {
    fs::create_dir_all(folder()).unwrap();
    for file in files() {
        fs::write(folder().join(file.name), file.text).unwrap();
    }
}

#[test]
fn the_files_are_what_the_invented_patients_left() {
    for file in files() {
        let there = fs::read_to_string(folder().join(file.name)).unwrap();
        assert!(there == file.text, "{} is not what its generator writes", file.name);
    }
}

#[test]
fn every_case_says_what_it_teaches_and_that_it_is_invented() {
    let mut count = 0;
    for entry in fs::read_dir(folder()).unwrap() {
        let path = entry.unwrap().path();
        if path.extension().is_none_or(|extension| extension != "ron") {
            continue;
        }
        let text = fs::read_to_string(&path).unwrap();
        assert!(text.starts_with("// What it teaches: "), "{}", path.display());
        assert!(text.contains("Invented for teaching"), "{}", path.display());
        let case = Case::from_ron(&text).unwrap_or_else(|error| panic!("{}: {error}", path.display()));
        assert!(case.title.contains("(invented)"), "{}", path.display());
        assert_eq!(Case::from_ron(&case.to_ron()).unwrap(), case, "{}", path.display());
        count += 1;
    }
    assert!(count >= 4, "{count}");
}

fn gives_back(case: &Case, truth: &Truth) {
    let done = case.program().unwrap();
    assert!(done.centric.as_ref().is_none_or(|check| check.confirmed), "{:?}", done.centric);
    for side in Side::BOTH {
        let settings = done.side(side).unwrap();
        let pairs = [
            ("H", &settings.horizontal_inclination.angle, truth.h_deg[side as usize]),
            ("L", &settings.lateral_angle.angle, truth.l_deg[side as usize]),
        ];
        for (name, read, truth) in pairs {
            let (value, error) = (read.value.degrees(), read.standard_error.unwrap().degrees());
            println!("{}: {name} of the {side} guide {value:.2} ± {error:.2}, truth {truth}", case.title);
            assert!((value - truth).abs() <= STANDARD_ERRORS * error, "{name} {side}: {value} ± {error}");
        }
    }
    let scene = case.scene(&done).unwrap().unwrap().scene;
    let mechanism = Mechanism::new(&scene.instrument);
    for excursion in &scene.excursions {
        assert_eq!(mechanism.motion(excursion, scene.samples).stopped(), None);
    }
}

#[test]
fn settings_are_the_true_ones_within_what_their_standard_errors_allow() {
    gives_back(&read("dentate.ron"), &DENTATE);
    gives_back(&read("edentulous.ron"), &EDENTULOUS);
    gives_back(&read("bench.ron"), &BENCH);
}

#[test]
fn the_faulty_centric_record_is_caught_and_would_have_falsified_the_settings() {
    let mut case = read("faulty_centric.ron");
    let done = case.program().unwrap();
    let check = done.centric.as_ref().unwrap();
    assert!(!check.confirmed && done.settings.is_none());
    assert!(case.scene(&done).unwrap().is_none());
    let off = words::verdict::centric::tentative_is_off(check);
    assert!(off.contains("too far forward") && off.contains("too far right"), "{off}");
    // Without the repeat nothing stops the wrong settings.
    case.records.remove(0);
    let done = case.program().unwrap();
    let worst = Side::BOTH
        .into_iter()
        .flat_map(|side| {
            let settings = done.side(side).unwrap();
            let angles = [&settings.horizontal_inclination.angle, &settings.lateral_angle.angle];
            let truths = [FAULTY.h_deg[side as usize], FAULTY.l_deg[side as usize]];
            angles.into_iter().zip(truths).map(|(read, truth)| {
                (read.value.degrees() - truth).abs() / read.standard_error.unwrap().degrees()
            })
        })
        .fold(0.0, f64::max);
    println!("the farthest setting would be {worst:.1} standard errors off");
    assert!(worst > STANDARD_ERRORS);
}
