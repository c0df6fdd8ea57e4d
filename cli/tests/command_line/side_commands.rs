//! `baseline`, `settings`, `scene`, `completion`, `manual`.

use sim_core::instrument::Instrument;
use sim_core::scene::{Scene, THIRTY_DEGREE};
use sim_core::setting::Change;
use sim_core::units::Length;

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
fn the_examiners_checklist_is_printed_with_its_reasons_and_what_the_scene_says() {
    let folder = Folder::new();
    let mut scene = Scene { instrument: Instrument::zeroed(), ..Scene::thirty_degree() };
    scene.instrument.incisal_point.y = Length::from_mm(1.5);
    let path = folder.file("off_the_middle.ron", scene.to_ron());
    let text = run(&["baseline", &path]).out.split_whitespace().collect::<Vec<_>>().join(" ");
    for part in [
        "An error here is carried by every later step.",
        "1. The pin's tip stands in the middle of the incisal table, from side to side. The scene has it otherwise: \
         the tip stands 1.5 mm to the left.",
        "3. Both wings of the incisal table are level. The scene has it so.",
        "8. Both centric locks hold when closed, and let go when open. A scene cannot tell: look at the instrument.",
        "an example of a baseline",
        words::CAUTION,
    ] {
        assert!(text.contains(part), "{part} is not in {text}");
    }
    let listed = json(&["baseline", &path, "--format", "json"]);
    let answers: Vec<&str> =
        listed["checklist"].as_array().unwrap().iter().map(|item| item["scene"].as_str().unwrap()).collect();
    let look = "cannot_tell";
    assert_eq!(answers, ["off", look, "stands", "stands", "stands", "stands", look, look]);
    assert_eq!(listed["checklist"][0]["departures"][0], "incisal_point_mm.y");
    assert_eq!(listed["baseline"]["is_example"], true);
    assert_eq!(listed["baseline"]["settings"]["lateral_angle_deg"], 30.0);
}

#[test]
fn a_scenes_own_baseline_is_what_its_instrument_is_measured_by() {
    let folder = Folder::new();
    let own = "baseline: (lateral_angle_deg: 15.0, sagittal_inclination_deg: 35.0, right_wing_deg: 20.0, \
        left_wing_deg: 20.0),\n    title:";
    let path = folder.file("own.ron", THIRTY_DEGREE.replacen("title:", own, 1));
    let listed = json(&["baseline", &path, "--format", "json"]);
    assert_eq!(listed["zeroed"], true, "{listed}");
    assert_eq!(listed["baseline"]["is_example"], false);
    let text = run(&["baseline", &path]).out;
    assert!(text.contains("the scene's own baseline") && !text.contains("example"), "{text}");
    // Without its own it is measured by the example, where the lateral angle is 30°.
    let path = folder.file("none.ron", THIRTY_DEGREE);
    assert_eq!(json(&["baseline", &path, "--format", "json"])["departures"].as_array().unwrap().len(), 5);
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
