//! `--with` and `--samples`: settings changed without editing the file.

use crate::helpers::{Folder, Parts, assert_near, eminentia, json, left, number, run};

const STRAIGHT_AHEAD: &str = "Protrusive(advance_mm: 6.0)";

fn drops(scene: &str, with: &[&str]) -> [f64; 2] {
    let mut args = vec!["excursion", scene, "--format", "json"];
    args.extend(with.iter().flat_map(|change| ["--with", change]));
    let run = json(&args);
    let end = run["excursions"][0]["samples"].as_array().unwrap().last().unwrap().clone();
    ["right_condyle", "left_condyle"].map(|side| number(&end[side], "drop_mm"))
}

fn drop_at(degrees: f64) -> f64 {
    6.0 * degrees.to_radians().tan()
}

#[test]
fn a_change_without_a_side_is_made_on_both() {
    let folder = Folder::new();
    let scene = folder.scene(&Parts { excursions: STRAIGHT_AHEAD, ..Parts::default() });
    for drop in drops(&scene, &["horizontal_inclination_deg=25"]) {
        assert_near(drop, drop_at(25.0), 1e-12);
    }
}

#[test]
fn a_change_with_a_side_leaves_the_other_and_a_later_one_wins() {
    let folder = Folder::new();
    let scene = folder.scene(&Parts { excursions: STRAIGHT_AHEAD, ..Parts::default() });
    let [right, left] = drops(&scene, &["left_guide.horizontal_inclination_deg=25"]);
    assert_near(right, drop_at(40.0), 1e-12);
    assert_near(left, drop_at(25.0), 1e-12);
    let [right, left] =
        drops(&scene, &["horizontal_inclination_deg=25", "right_guide.horizontal_inclination_deg=-10"]);
    assert_near(right, drop_at(-10.0), 1e-12);
    assert_near(left, drop_at(25.0), 1e-12);
}

#[test]
fn a_choice_between_words_can_be_changed() {
    let folder = Folder::new();
    let scene = folder.scene(&Parts::default());
    let changed = json(&["excursion", &scene, "--format", "json", "--with", "anterior_guide=Incisors"]);
    assert_eq!(changed["excursions"][0]["samples"][3]["guided_by"], "incisors");
    let table = run(&["excursion", &scene, "--with", "design=NonArcon"]).out;
    assert!(table.contains("design NonArcon"), "{table}");
}

#[test]
fn samples_can_be_changed() {
    let folder = Folder::new();
    let run = json(&["excursion", &folder.scene(&Parts::default()), "--samples", "3", "--format", "json"]);
    assert_eq!(run["excursions"][0]["samples"].as_array().unwrap().len(), 3);
}

#[test]
fn a_change_that_does_nothing_is_warned_of() {
    let folder = Folder::new();
    let profile = "(horizontal_inclination_deg: 40.0, lateral_angle_deg: 15.0, \
                   path: Profile([(0.0, 0.0), (4.0, 3.0), (10.0, 5.0)]))";
    let scene = folder.scene(&Parts { right_guide: profile, ..Parts::default() });
    let args = ["excursion", &scene, "--format", "json", "--with", "horizontal_inclination_deg=30"];
    let left = run(&args);
    assert_eq!(left.status, 0);
    assert!(left.err.contains("warning") && left.err.contains("right side"), "{}", left.err);
    assert!(serde_json::from_str::<serde_json::Value>(&left.out).is_ok());
    let made_straight = run(&[&args[..], &["--with", "right_guide.path=Straight"]].concat());
    assert!(made_straight.err.is_empty(), "{}", made_straight.err);
}

#[test]
fn a_scene_can_come_through_standard_input() {
    let mut command = eminentia();
    command.args(["excursion", "-", "--format", "json"]).write_stdin(Parts::default().text());
    let piped = left(&mut command);
    let folder = Folder::new();
    let filed = run(&["excursion", &folder.scene(&Parts::default()), "--format", "json"]);
    assert_eq!(piped.status, 0, "{}", piped.err);
    assert_eq!(piped.out, filed.out);
}

#[test]
fn a_mark_at_the_start_of_the_text_does_no_harm() {
    let folder = Folder::new();
    let scene = folder.file("marked.ron", format!("\u{feff}{}", Parts::default().text()));
    assert_eq!(run(&["excursion", &scene]).status, 0);
}
