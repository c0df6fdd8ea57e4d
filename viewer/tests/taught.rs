//! A lesson in a real window, by key and mouse, at the desk of [`desk`].

#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, reason = "a test fails by panicking")]
#![cfg(target_os = "linux")]

mod desk;

use desk::{Desk, near, number, setting};
use serde_json::Value;
use sim_core::scene::Scene;

fn step(line: &Value) -> u64 {
    line["lesson"]["step"].as_u64().unwrap_or(0)
}

#[test]
fn a_pupil_goes_through_a_lesson_by_key_and_mouse_and_has_the_own_set_up_back() {
    let desk = Desk::open(&Scene::thirty_degree());
    desk.key("z");
    let own = desk.wait("the baseline", |line| near(setting(line, "lateral_angle_deg.left"), 30.0));
    desk.key("e");
    desk.wait("the list", |line| line["places"]["lesson=inclination"].is_array());
    desk.push("lesson=inclination", "the first step", |line| {
        step(line) == 1 && line["lesson"]["hidden"] == true && line["view"] == "right"
    });
    // Predict first: the controls show nothing, and say why.
    desk.key("End");
    desk.wait("why not", |line| {
        line["note"].as_str().is_some_and(|note| note.contains("Answer the question"))
    });
    assert!(near(number(&desk.now().unwrap()["at"]), 0.0));
    desk.key("Escape");
    desk.wait("the note away", |line| line["note"].is_null());

    // A number, wrong and then right: letters typed into the field are no keys of the viewer.
    desk.push("lesson_number", "the field", |line| line["focus"] == "lesson_number");
    for key in ["3", "Return"] {
        desk.key(key);
    }
    desk.wait("not so", |line| line["lesson"]["is_right"] == false && step(line) == 1);
    desk.push("lesson_number", "the field again", |line| line["focus"] == "lesson_number");
    for key in ["1", "comma", "7", "3", "Return"] {
        desk.key(key);
    }
    let right = desk.wait("right", |line| line["lesson"]["is_right"] == true);
    assert!(near(number(&right["at"]), 3.0) && right["lesson"]["hidden"] == false);

    // A choice.
    desk.push("lesson_next", "the second step", |line| {
        step(line) == 2 && line["lesson"]["question"] == "choice"
    });
    let answer = desk.now().unwrap()["lesson"]["right"].as_u64().unwrap();
    desk.push(&format!("answer={answer}"), "right", |line| line["lesson"]["is_right"] == true);
    for next in 3..=5 {
        desk.push("lesson_next", "the next step", |line| step(line) == next);
    }

    // A set-up: the guides turned until it is right.
    desk.push("lesson_check", "not yet", |line| line["lesson"]["is_right"] == false);
    desk.key("t");
    desk.wait("sides tied", |line| line["tied"] == true);
    desk.press("horizontal_inclination_deg.left", 0.75, "steeper", |line| {
        setting(line, "horizontal_inclination_deg.right") > 45.0
    });
    desk.push("lesson_check", "right", |line| line["lesson"]["is_right"] == true);
    desk.push("lesson_next", "the end", |line| step(line) == 6);
    desk.push("lesson_leave", "the own set-up", |line| {
        line["lesson"].is_null() && line["settings"] == own["settings"]
    });
}
