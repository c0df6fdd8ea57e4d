//! The instrument's own tracing laid over.

use sim_core::tracing::Leg;

use crate::drawn::{self, Chance};
use crate::helpers::{Folder, json, number, run, three};

fn rims() -> String {
    concat!(env!("CARGO_MANIFEST_DIR"), "/../scenes/flat_rims.ron").to_owned()
}

fn tracing(left_lateral_angle_deg: f64) -> String {
    let drawn = drawn::of(&drawn::rims(left_lateral_angle_deg), 8.0, 80);
    let mut legs = Leg::ALL.map(|leg| drawn::laid(&drawn, leg, (2.0, 1.0)));
    drawn::scattered(&mut legs, 0.03, &mut Chance(4));
    drawn::csv("Made by a test", &legs)
}

#[test]
fn the_instrument_that_drew_it_lies_on_it_but_for_the_scatter() {
    let folder = Folder::new();
    let file = folder.file("points.csv", tracing(15.0));
    let found = json(&["tracing", &file, "--over", &rims(), "--format", "json"]);
    let over = &found["over"];
    // The scatter, and the uncertainty of the apex on which both are laid.
    assert!(number(&over["apart"], "rms_mm") < 0.09);
    assert!(number(over, "turn_deg").abs() < 0.5);
    assert_eq!(three(&over["stylus_mm"]), [112.0, 0.0, -34.0]);
    assert_eq!(over["title"], "Flat rims on a level plane (invented)");
}

#[test]
fn changed_settings_bring_another_instrument_onto_it() {
    let folder = Folder::new();
    let file = folder.file("points.csv", tracing(22.0));
    let right = |args: &[&str]| {
        let found = json(&[&["tracing", &file, "--over", &rims(), "--format", "json"], args].concat());
        number(&found["over"]["legs"][1]["apart"], "greatest_mm")
    };
    assert!(right(&[]) > 0.25);
    assert!(right(&["--with", "left_guide.lateral_angle_deg=22"]) < 0.15);
}

#[test]
fn the_stylus_is_set_where_it_stood() {
    let folder = Folder::new();
    let file = folder.file("points.csv", tracing(15.0));
    let found = json(&["tracing", &file, "--over", &rims(), "--stylus", "60,0,-34", "--format", "json"]);
    assert_eq!(three(&found["over"]["stylus_mm"]), [60.0, 0.0, -34.0]);
    assert!(
        number(&found["over"]["apart"], "rms_mm") > 0.2,
        "a stylus nearer the joints draws another arrow"
    );
    for given in ["60", "60,0", "60,0,x", "60,0,NaN", "900,0,0"] {
        let left = run(&["tracing", &file, "--over", &rims(), "--stylus", given]);
        assert_eq!(left.status, 2, "{given}: {}", left.err);
    }
}

#[test]
fn the_table_has_the_distances() {
    let folder = Folder::new();
    let left = run(&["tracing", &folder.file("points.csv", tracing(15.0)), "--over", &rims()]);
    assert_eq!(left.status, 0, "{}", left.err);
    assert!(left.out.contains("Laid over: what the instrument of “Flat rims"), "{}", left.out);
    assert!(left.out.contains("greatest"));
}

#[test]
fn a_scene_that_is_none_is_told() {
    let folder = Folder::new();
    let file = folder.file("points.csv", tracing(15.0));
    let left = run(&["tracing", &file, "--over", &file]);
    assert_eq!(left.status, 2);
    let lone = run(&["tracing", &file, "--stylus", "118,0,-42"]);
    assert_eq!(lone.status, 2, "{}", lone.err);
    assert!(lone.err.contains("--over"), "{}", lone.err);
}
