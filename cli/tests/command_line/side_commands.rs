//! `baseline`, `settings`, `scene`, `completion`, `manual`.

use sim_core::instrument::Instrument;
use sim_core::scene::{Scene, THIRTY_DEGREE};
use sim_core::setting::Change;

use crate::helpers::{Folder, Parts, csv, json, run};

#[test]
fn every_departure_from_the_zeroed_baseline_is_listed() {
    let folder = Folder::new();
    let guide = "(horizontal_inclination_deg: 30.0, lateral_angle_deg: 15.0)";
    let scene = folder.scene(&Parts { left_guide: guide, ..Parts::default() });
    let listed = json(&["baseline", &scene, "--format", "json"]);
    let names: Vec<&str> =
        listed["departures"].as_array().unwrap().iter().map(|one| one["name"].as_str().unwrap()).collect();
    assert_eq!(
        names,
        [
            "right_guide.horizontal_inclination_deg",
            "right_guide.lateral_angle_deg",
            "left_guide.lateral_angle_deg",
        ]
    );
    assert_eq!(listed["departures"][0]["is"], 40.0);
    assert_eq!(listed["departures"][0]["zeroed"], 30.0);
    let text = run(&["baseline", &scene]).out;
    assert!(text.contains("3 settings depart") && text.contains("40°"), "{text}");
    assert_eq!(csv(&["baseline", &scene, "--format", "csv"]).lines().count(), 1 + 3);
}

#[test]
fn a_zeroed_instrument_stands_as_zeroed() {
    let folder = Folder::new();
    let scene = Scene { instrument: Instrument::zeroed(), ..Scene::thirty_degree() };
    let path = folder.file("zeroed.ron", scene.to_ron());
    let left = run(&["baseline", &path]);
    assert_eq!(left.status, 0);
    assert!(left.out.contains("no setting departs"), "{}", left.out);
    assert_eq!(json(&["baseline", &path, "--format", "json"])["zeroed"], true);
}

#[test]
fn every_setting_is_in_the_help_and_in_the_list() {
    let (help, list) = (run(&["excursion", "--help"]), run(&["settings"]));
    assert_eq!((help.status, list.status), (0, 0));
    for name in Change::names() {
        let entry = format!("  {name} ");
        assert!(help.out.contains(&entry) && list.out.contains(&entry), "{name}");
    }
    let listed = json(&["settings", "--format", "json"]);
    let names: Vec<&str> =
        listed["settings"].as_array().unwrap().iter().map(|one| one["name"].as_str().unwrap()).collect();
    assert_eq!(names, Change::names().collect::<Vec<_>>());
    assert_eq!(csv(&["settings", "--format", "csv"]).lines().count(), 1 + names.len());
}

#[test]
fn the_compiled_in_scene_is_printed_with_its_comments() {
    assert_eq!(run(&["scene"]).out, THIRTY_DEGREE);
}

#[test]
fn completion_scripts_know_the_commands() {
    for shell in ["bash", "zsh", "fish", "powershell", "elvish"] {
        let script = run(&["completion", shell]);
        assert_eq!(script.status, 0);
        for word in ["excursion", "compare", "baseline", "samples"] {
            assert!(script.out.contains(word), "{word} for {shell}");
        }
    }
    assert_eq!(run(&["completion", "no-such-shell"]).status, 2);
}

#[test]
fn manual_pages_are_printed_for_the_program_and_each_command() {
    assert!(run(&["manual"]).out.contains(".TH eminentia"));
    let page = run(&["manual", "excursion"]);
    assert!(page.out.contains("NAME=VALUE") && page.out.contains("flat_half_width_mm"), "{}", page.out);
    let unknown = run(&["manual", "excursoin"]);
    assert_eq!(unknown.status, 2);
    assert!(unknown.err.contains("excursoin") && unknown.err.contains("excursion,"), "{}", unknown.err);
}
