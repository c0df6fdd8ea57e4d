//! `remount`: processing, centric, selective grinding.

use crate::casts::csv_rows;
use crate::helpers::{Folder, assert_near, json, number, refused, run};

fn demo() -> String {
    format!("{}/../scenes/remounts/processed_denture.ron", env!("CARGO_MANIFEST_DIR"))
}

/// The demo's text with one thing changed, elsewhere.
fn changed(folder: &Folder, what: &str, with: &str) -> String {
    let text = std::fs::read_to_string(demo()).unwrap();
    assert!(text.contains(what), "{what}");
    let scene = format!("{}/../scenes/denture_casts.ron", env!("CARGO_MANIFEST_DIR"));
    let text = text.replacen(what, with, 1).replace("../denture_casts.ron", &scene.replace('\\', "/"));
    let path = folder.shell("remount.ron");
    std::fs::write(&path, text).unwrap();
    path
}

#[test]
fn the_demo_teaches_what_it_says() {
    let told = json(&["remount", &demo(), "--format", "json"]);
    assert!(told["caution"].as_str().unwrap().contains("licensed practice"));
    assert!(told["grinding_caution"].as_str().unwrap().contains("cannot be put back"));
    assert_eq!(told["centric"]["verdict"], "stands");
    assert_near(number(&told["centric"], "hinge_turn_deg"), 2.0, 1e-3);
    // The lift in the file is that of the casts with the raised tooth.
    let lift = number(&told["processing"], "pin_lift_mm");
    assert_near(number(&told["grinding"], "pin_lift_before_mm"), lift, 0.02);
    assert_near(number(&told["grinding"], "pin_lift_after_centric_mm"), 0.0, 0.04);
    let places = told["grinding"]["places"].as_array().unwrap();
    assert_eq!(places[0]["step"], "centric");
    assert_eq!(places[0]["lower_tooth"], 46);
    let rows = csv_rows(&run(&["remount", &demo(), "--format", "csv"]).out);
    assert_eq!(rows.len(), places.len() + 1);
    let table = run(&["remount", &demo()]).out;
    for words in
        ["Processing", "stands", "Step 1: centric", "Never", "these carry", "cannot be put back", "balance"]
    {
        assert!(table.to_lowercase().contains(&words.to_lowercase()), "{words}:\n{table}");
    }
    assert!(table.lines().all(|line| line.chars().count() <= 100 && line == line.trim_end()), "{table}");
}

#[test]
fn with_a_wrong_centric_the_list_is_withheld() {
    let folder = Folder::new();
    let path = changed(&folder, "0.05),", "1.0),");
    let told = json(&["remount", &path, "--format", "json"]);
    assert_eq!(told["centric"]["verdict"], "wrong");
    assert!(told["grinding"].is_null() && told["grinding_withheld"] == true);
    assert!(told["to_do"].as_str().unwrap().starts_with("Grind nothing"));
    assert!(run(&["remount", &path]).out.contains("withheld"));
}

#[test]
fn what_cannot_be_read_is_refused_with_its_place() {
    let folder = Folder::new();
    refused(&run(&["remount", "no/such.ron"]), &["no/such.ron: no such file", "scenes/remounts"]);
    let path = changed(&folder, "pin_lift_mm: 0.71", "pin_lift_mm: 75");
    refused(&run(&["remount", &path]), &["remount.ron:", "pin_lift_mm is 75", "-10 to 10 mm"]);
    let path = changed(&folder, "tooth: 46", "tooth: 48");
    refused(&run(&["remount", &path]), &["remount.ron", "have no tooth 48"]);
    let path = changed(&folder, "title: ", "scene: \"x\", title: ");
    refused(&run(&["remount", &path]), &["remount.ron:"]);
}

#[test]
fn where_there_are_cusps_alone_those_in_the_way_are_listed() {
    let folder = Folder::new();
    let scenes = format!("{}/../scenes", env!("CARGO_MANIFEST_DIR"));
    let scene = std::fs::read_to_string(format!("{scenes}/thirty_degree.ron")).unwrap();
    let [slope, level] = ["sagittal_inclination_deg: 35.0", "sagittal_inclination_deg: 5.0"];
    assert!(scene.contains(slope));
    folder.file("scene.ron", scene.replace(slope, level));
    let text = std::fs::read_to_string(demo()).unwrap().replace("../denture_casts.ron", "scene.ron");
    let path = folder.file("remount.ron", &text);
    let told = json(&["remount", &path, "--format", "json"]);
    assert!(told["grinding"].is_null());
    let cusps = told["cusps_in_the_way"].as_array().unwrap();
    // The tooth that the file raises comes first, by as much.
    assert_eq!((&cusps[0]["step"], &cusps[0]["cusp"]), (&"centric".into(), &"46.mesiobuccal".into()));
    assert_near(number(&cusps[0], "amount_mm"), 0.5, 1e-12);
    let protrusive = cusps.iter().find(|one| one["step"] == "protrusive").unwrap();
    let rows = csv_rows(&run(&["remount", &path, "--format", "csv"]).out);
    assert_eq!(rows.len(), cusps.len() + 1);
    let table = run(&["remount", &path]).out;
    for words in [
        "Cusps in the way",
        "Step 1: centric",
        "Step 4: protrusive",
        "46 mesiobuccal",
        "1.00 mm",
        "do not grind",
        "cannot be put back",
    ] {
        assert!(table.contains(words), "{words}:\n{table}");
    }
    assert!(table.contains(&words::number::two_decimals(number(protrusive, "amount_mm"))), "{table}");
    assert!(table.lines().all(|line| line.chars().count() <= 100 && line == line.trim_end()), "{table}");
    // Without the raised tooth nobody can say which one keeps the pin up.
    let path = folder.file("remount.ron", text.replace("raised: [(tooth: 46, by_mm: 0.5)],", ""));
    assert!(run(&["remount", &path]).out.contains("foil"));
    let path = folder.file("remount.ron", text.replace("0.05),", "1.0),"));
    let told = json(&["remount", &path, "--format", "json"]);
    assert!(told["cusps_in_the_way"].is_null() && told["grinding_withheld"] == true);
}
