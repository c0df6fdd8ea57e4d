//! In a real window: a number clicked says why it is what it is, and the glossary what the words mean.

#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, reason = "a test fails by panicking")]
#![cfg(target_os = "linux")]

mod desk;

use std::process::Command;

use desk::{Desk, near, number};
use serde_json::Value;
use sim_core::scene::Scene;

fn sum(line: &Value) -> f64 {
    line["account"]["parts"].as_array().unwrap().iter().map(|part| number(&part[1])).sum()
}

#[test]
fn a_number_clicked_is_taken_apart_and_follows_what_is_set() {
    let desk = Desk::open(&Scene::thirty_degree());
    desk.key("End");
    let end = desk.wait("the end", |line| near(number(&line["at"]), 6.0));
    assert!(end["account"].is_null());

    // A separation in the table, by the mouse.
    let told = desk.push("why=separation:1", "the account", |line| line["account"]["number"] == "separation");
    let value = number(&told["account"]["value"]);
    assert!(near(value, number(&told["cusps"][1]["separation_mm"])) && near(sum(&told), value));
    assert!(told["account"]["slopes"][0].as_str().unwrap().contains(" more of "));

    // It follows a slider, and the place along the excursion.
    let steeper = desk.press("horizontal_inclination_deg.right", 0.6, "a steeper guide", |line| {
        number(&line["account"]["value"]) > value + 0.01
    });
    assert!(near(sum(&steeper), number(&steeper["cusps"][1]["separation_mm"])));
    desk.key("Home");
    desk.wait("nothing at rest", |line| number(&line["account"]["value"]).abs() < 1e-9);
    desk.key("End");
    desk.wait("the end again", |line| near(number(&line["at"]), 6.0));

    // Another number of the page, a part followed on, and back by the key.
    desk.push("account=clearance", "its clearance", |line| line["account"]["number"] == "clearance");
    desk.push("part=0", "the drop of a condyle", |line| line["account"]["number"] == "right_drop");
    desk.key("i");
    desk.wait("the cusps again", |line| line["account"].is_null());
    desk.key("i");
    let marked = desk.wait("the first cusp marked", |line| line["account"]["number"] == "clearance");
    let first = usize::try_from(marked["account"]["cusp"].as_u64().unwrap()).unwrap();
    assert_eq!(marked["cusps"][first]["marked"], true);
}

#[test]
fn the_glossary_is_searched_in_the_window() {
    let desk = Desk::open(&Scene::thirty_degree());
    desk.key("q");
    let all = desk.wait("the glossary", |line| line["glossary"]["terms"].is_array());
    assert!(all["glossary"]["terms"].as_array().unwrap().len() > 50);
    let is_in_the_field = |line: &Value| line["focus"] == "look_up";
    desk.push("look_up", "the field", is_in_the_field);
    desk.xdotool(&["type", "--delay", "60", "bennett"]);
    let found = desk.wait("what is looked for", |line| line["glossary"]["wanted"] == "bennett");
    assert_eq!(found["glossary"]["terms"][0], "Bennett movement");
    // What is typed stands in the field and presses no keys of the window.
    assert_eq!((&found["excursion"], &found["at"]), (&all["excursion"], &all["at"]));
    desk.key("Escape");
    desk.wait("closed", |line| line["glossary"].is_null());
}

#[test]
fn a_picture_shows_the_account_and_a_cusp_that_is_not_there_is_refused() {
    let folder = tempfile::tempdir().unwrap();
    let picture = folder.path().join("why.png");
    let viewer = |cusp: &str| {
        Command::new(env!("CARGO_BIN_EXE_viewer"))
            .args(["--why", cusp, "--excursion", "protrusive", "--at", "3", "--snapshot"])
            .arg(&picture)
            .output()
            .unwrap()
    };
    let refused = viewer("18:buccal");
    let said = String::from_utf8_lossy(&refused.stderr).into_owned();
    assert!(!refused.status.success() && said.contains("36:mesiobuccal"), "{said}");
    assert!(!picture.exists());
    let made = viewer("36:mesiobuccal");
    assert!(made.status.success(), "{}", String::from_utf8_lossy(&made.stderr));
    assert!(image::open(&picture).unwrap().width() == 1280);
}
