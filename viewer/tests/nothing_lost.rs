//! In a real window: what is typed arrives as typed, what is done is undone, what is saved is in its file, and
//! what was not saved is offered again after a crash.

#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, reason = "a test fails by panicking")]
#![cfg(target_os = "linux")]

mod desk;

use desk::{Desk, near, setting};
use sim_core::scene::Scene;
use sim_core::setting::Change;

fn inclination(line: &serde_json::Value) -> f64 {
    setting(line, "horizontal_inclination_deg.right")
}

#[test]
fn what_is_typed_undone_saved_and_left_in_a_crash_is_all_there() {
    let mut scene = Scene::thirty_degree();
    "horizontal_inclination_deg=32.67".parse::<Change>().unwrap().make(&mut scene).unwrap();
    let mut desk = Desk::open(&scene);
    let first = desk.now().unwrap();

    // A click into a number and out of it again sends nothing.
    let field = "number:horizontal_inclination_deg.right";
    let into_field = |desk: &Desk| {
        let [left, top, width, height] = desk.place(field);
        desk.click(left + width / 2.0, top + height / 2.0);
        desk.wait("the keyboard in the field", |line| line["focus"] == field);
    };
    into_field(&desk);
    desk.key("Tab");
    desk.wait("the keyboard gone on", |line| line["focus"] != field);
    desk.key("End");
    let line = desk.wait("the end", |line| near(desk::number(&line["at"]), 6.0));
    assert_eq!((&line["settings"], &line["changed"]), (&first["settings"], &serde_json::Value::Bool(false)));

    // With a comma, and exactly what was typed.
    into_field(&desk);
    desk.xdotool(&["type", "--delay", "60", "22,25"]);
    desk.key("Return");
    desk.wait("the number typed", |line| near(inclination(line), 22.25) && line["changed"] == true);
    // What is no number is told with the name that the label has.
    into_field(&desk);
    desk.xdotool(&["type", "--delay", "60", "steep"]);
    desk.key("Return");
    let told = desk.wait("the word refused", |line| line["note"].is_string());
    assert!(told["note"].as_str().unwrap().contains("horizontal condylar inclination, right"), "{told}");
    desk.key("Escape");
    desk.wait("the note gone", |line| line["note"].is_null());

    // A letter with a modifier is another key.
    desk.key("ctrl+z");
    desk.wait("undone", |line| line["settings"] == first["settings"]);
    desk.key("alt+z");
    desk.key("super+z");
    desk.key("ctrl+y");
    let redone = desk.wait("redone", |line| near(inclination(line), 22.25));
    assert_eq!(redone["history"], serde_json::json!([1, 0]));

    // Saved under another name than the file that a person wrote; that stays as it is.
    let before = std::fs::read_to_string(desk.path("scene.ron")).unwrap();
    desk.key("ctrl+s");
    desk.wait("the card", |line| line["asking"] == "save");
    desk.key("Return");
    let saved = desk.wait("saved", |line| line["changed"] == false);
    assert!(saved["file"].as_str().unwrap().ends_with("scene_changed.ron"), "{}", saved["file"]);
    assert_eq!(std::fs::read_to_string(desk.path("scene.ron")).unwrap(), before);
    let written = std::fs::read_to_string(desk.path("scene_changed.ron")).unwrap();
    let again = Scene::from_ron(&written).unwrap();
    assert!(near(again.instrument.right_guide.horizontal_inclination.degrees(), 22.25));

    // The picture goes out under a name beside the scene.
    desk.key("ctrl+e");
    desk.wait("the card of what is written", |line| line["asking"] == "write");
    desk.key("Return");
    desk.wait("the card gone", |line| line["asking"].is_null());
    let written = desk.path("scene_changed.png");
    let start = std::time::Instant::now();
    while !written.exists() {
        assert!(start.elapsed() < desk::PATIENCE, "no picture was written");
        std::thread::sleep(std::time::Duration::from_millis(50));
    }
    assert_eq!(image::open(&written).unwrap().width(), 1920);

    // The scene beside it by a key.
    desk.key("ctrl+Next");
    desk.wait("the other scene", |line| line["file"].as_str().unwrap().ends_with("/scene.ron"));
    desk.key("z");
    desk.wait("zeroed", |line| near(inclination(line), 30.0));

    // A crash: the change is offered, and taken up on its file.
    desk.key("F10");
    desk.wait("asked", |line| line["asking"] == "close");
    // What is kept is kept once the hands rest.
    let kept = desk.path("kept/eminentia/viewer/sessions");
    let is_kept = || {
        let texts = std::fs::read_dir(&kept)
            .unwrap()
            .flatten()
            .filter_map(|entry| std::fs::read_to_string(entry.path()).ok());
        texts.into_iter().any(|text| text.contains("horizontal_inclination_deg: 30"))
    };
    let start = std::time::Instant::now();
    while !is_kept() {
        assert!(start.elapsed() < desk::PATIENCE, "nothing is kept in {kept:?}");
        std::thread::sleep(std::time::Duration::from_millis(20));
    }
    desk.crash_and_open_again();
    desk.wait("offered", |line| line["asking"] == "take_up");
    desk.push("answer=Take them up", "taken up", |line| {
        near(inclination(line), 30.0) && line["changed"] == true
    });
    desk.key("ctrl+z");
    desk.wait("the file's values", |line| near(inclination(line), 32.67));
}
