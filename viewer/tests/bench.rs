//! The bench page in a real window, by key and by mouse.

#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, reason = "a test fails by panicking")]
#![cfg(target_os = "linux")]

mod desk;

use desk::Desk;
use serde_json::Value;
use sim_core::scene::Scene;

const DENTATE: &str = include_str!("../../scenes/cases/dentate.ron");

fn number(line: &Value, dial: &str) -> f64 {
    line["bench"]["set_to_deg"][dial].as_f64().unwrap_or(f64::NAN)
}

fn gaps(line: &Value) -> Vec<f64> {
    line["bench"]["gaps_mm"].as_array().into_iter().flatten().filter_map(Value::as_f64).collect()
}

/// Opens a file by the card that asks for one.
fn open(desk: &Desk, name: &str, what: &str, is_so: impl Fn(&Value) -> bool) -> Value {
    desk.push("open", "the card that asks for a file", |line| line["asking"] == "open");
    let path = desk.path(name).display().to_string();
    desk.xdotool(&["type", "--delay", "40", &path]);
    desk.key("Return");
    desk.wait(what, is_so)
}

#[test]
fn a_case_is_closed_locked_read_and_undone_in_a_real_window() {
    let desk = Desk::open(&Scene::thirty_degree());
    std::fs::write(desk.path("case.ron"), DENTATE).unwrap();
    std::fs::write(desk.path("bad.ron"), DENTATE.replace("Protrusive(", "Protusive(")).unwrap();

    // The empty bench, and back.
    desk.key("y");
    desk.wait("the bench", |line| line["room"] == "bench" && line["bench"].is_null());
    open(&desk, "case.ron", "the case", |line| line["bench"]["title"] == "Dentate case (invented)");

    // A record between the casts: the split stands open, and turning a guide changes what is seen.
    let line = desk.push("lay=1", "a record", |line| line["bench"]["between"] == 1);
    assert!(gaps(&line).iter().any(|gap| *gap > 0.1), "{line}");
    let [left, top, ..] = desk.place("view=oblique");
    let picture = [left, top + 80.0, 500.0, 380.0];
    let before = desk.pixels_of(picture);
    let line = desk.push("size=split1", "the split alone", |line| line["bench"]["size"] == "split1");
    desk.wait_for_change(picture, &before);
    let (opened, before) = (gaps(&line), desk.pixels_of(picture));
    desk.key("F2");
    desk.key("F2");
    let line =
        desk.wait("the right guide turned by keys", |line| (number(line, "H.right") - 31.0).abs() < 1e-9);
    assert_ne!(gaps(&line), opened);
    desk.wait_for_change(picture, &before);

    // Typed, it is exactly what was typed.
    let [left, top, width, height] = desk.place("number:H.left");
    desk.click(left + width / 2.0, top + height / 2.0);
    desk.xdotool(&["type", "--delay", "60", "37,27"]);
    desk.key("Return");
    desk.wait("the left guide typed", |line| (number(line, "H.left") - 37.27).abs() < 1e-9);

    // A locked guide is not turned.
    desk.push("lock:H.right", "a lock", |line| line["bench"]["locked"][0] == "H.right");
    desk.key("F2");
    let line = desk.wait("the refusal", |line| !line["note"].is_null());
    assert!(line["note"].as_str().unwrap().contains("is locked"), "{line}");
    desk.push("lock:H.right", "no lock", |line| line["bench"]["locked"] == serde_json::json!([]));

    // Closed, locked and read; the checklist knows it.
    let line = desk.push("turn_to_close", "the split closed", |line| line["bench"]["closed"] == true);
    assert!(gaps(&line).iter().all(|gap| *gap < 1e-9), "{line}");
    for dial in ["H.right", "H.left"] {
        desk.push(&format!("lock:{dial}"), "a lock", |line| {
            line["bench"]["locked"].as_array().is_some_and(|all| all.iter().any(|one| one == dial))
        });
    }
    let line = desk.push("read_scales", "the readings", |line| line["bench"]["readings"] == 2);
    assert_eq!(line["bench"]["order"][3], "done");
    assert_eq!(line["bench"]["order"][0], "skipped");
    desk.key("ctrl+z");
    desk.wait("the readings undone", |line| line["bench"]["readings"] == 0);

    // A bad case is named with its line, and the case stays.
    let line = open(&desk, "bad.ron", "what is wrong with it", |line| !line["file_note"].is_null());
    let said = line["file_note"].as_str().unwrap();
    let wrong = DENTATE.lines().position(|line| line.contains("Protrusive(")).unwrap() + 1;
    assert!(said.contains(&format!("bad.ron:{wrong}:")), "{said}");
    assert_eq!(line["bench"]["title"], "Dentate case (invented)");
    assert!((number(&line, "H.left") - 37.27).abs() > 0.1, "as it was turned to close");

    // The set-up is shown on the instrument.
    let set = number(&line, "H.right");
    desk.push("set_up=as_set", "the set-up", |line| line["room"] == "instrument");
    desk.wait("its guides", |line| {
        line["settings"]["horizontal_inclination_deg.right"]
            .as_f64()
            .is_some_and(|now| (now - set).abs() < 1e-9)
    });
    desk.key("y");
    desk.wait("the bench again", |line| line["room"] == "bench" && line["bench"]["between"] == 1);
}
