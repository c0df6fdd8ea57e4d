//! `compare`: two scenes beside each other.

use serde_json::Value;

use crate::helpers::{Folder, Parts, TWO_CUSPS, assert_near, json, number, run};

fn end_of(run: &Value, excursion: usize) -> &Value {
    run["excursions"][excursion]["samples"].as_array().unwrap().last().unwrap()
}

#[test]
fn a_scene_and_its_change_are_compared_cusp_by_cusp() {
    let folder = Folder::new();
    let scene = folder.scene(&Parts::default());
    let change = ["--with", "left_guide.horizontal_inclination_deg=25"];
    let compared = json(&[&["compare", &scene, "--format", "json"], &change[..]].concat());
    let before = json(&["excursion", &scene, "--format", "json"]);
    let after = json(&[&["excursion", &scene, "--format", "json"], &change[..]].concat());
    for excursion in 0..2 {
        for cusp in 0..2 {
            let row = &compared["excursions"][excursion]["cusps"][cusp];
            for measure in ["separation_mm", "clearance_mm"] {
                let first = number(&end_of(&before, excursion)["cusps"][cusp], measure);
                let second = number(&end_of(&after, excursion)["cusps"][cusp], measure);
                assert_near(number(&row[measure], "first"), first, 0.0);
                assert_near(number(&row[measure], "second"), second, 0.0);
                assert_near(number(&row[measure], "change"), second - first, 0.0);
            }
        }
    }
    let settings = compared["settings"].as_array().unwrap();
    assert_eq!(settings.len(), 1);
    assert_eq!(settings[0]["name"], "left_guide.horizontal_inclination_deg");
    assert_eq!(
        [&settings[0]["first"], &settings[0]["second"], &settings[0]["change"]],
        [&Value::from(40.0), &Value::from(25.0), &Value::from(-15.0)]
    );
}

#[test]
fn cusps_are_matched_by_tooth_and_name_and_excursions_by_name_and_occurrence() {
    let folder = Folder::new();
    let first = folder.file(
        "first.ron",
        Parts {
            excursions: "Protrusive(advance_mm: 3.0), Opening(angle_deg: 5.0), Protrusive(advance_mm: 6.0)",
            ..Parts::default()
        }
        .text(),
    );
    let mut cusps: Vec<&str> = TWO_CUSPS.split("), (tooth").collect();
    cusps.reverse();
    // The upper cusp first, the lower one under another name.
    let cusps = format!("(tooth{}, {})", cusps[0], cusps[1].replace("mesiobuccal", "distobuccal"));
    let cusps = cusps.replacen("(tooth(", "(", 1);
    let second = folder.file("second.ron", Parts {
        cusps: cusps.leak(),
        excursions: "RightLateral(advance_mm: 5.0), Protrusive(advance_mm: 4.0), Protrusive(advance_mm: 5.0)",
        ..Parts::default()
    }.text());
    let compared = json(&["compare", &first, &second, "--format", "json"]);
    let excursions: Vec<(String, u64, &Value)> = compared["excursions"]
        .as_array()
        .unwrap()
        .iter()
        .map(|one| {
            (one["name"].as_str().unwrap().to_owned(), one["occurrence"].as_u64().unwrap(), &one["only_in"])
        })
        .collect();
    let none = Value::Null;
    let (only_first, only_second) = (Value::from("first"), Value::from("second"));
    assert_eq!(
        excursions,
        [
            ("protrusive".to_owned(), 1, &none),
            ("opening".to_owned(), 1, &only_first),
            ("protrusive".to_owned(), 2, &none),
            ("right_lateral".to_owned(), 1, &only_second),
        ]
    );
    let advance = &compared["excursions"][2]["advance_mm"];
    assert_eq!([number(advance, "first"), number(advance, "second")], [6.0, 5.0]);
    let cusps: Vec<String> = compared["excursions"][0]["cusps"]
        .as_array()
        .unwrap()
        .iter()
        .map(|one| format!("{} {} {}", one["tooth"], one["name"].as_str().unwrap(), one["only_in"]))
        .collect();
    assert_eq!(cusps, ["36 mesiobuccal \"first\"", "16 mesiopalatal null", "36 distobuccal \"second\""]);
    let table = run(&["compare", &first, &second]).out;
    for words in ["protrusive (2)", "only in first", "only in second", "36 distobuccal", "No setting differs"]
    {
        assert!(table.contains(words), "{words}:\n{table}");
    }
    let csv = run(&["compare", &first, &second, "--format", "csv"]).out;
    assert!(csv.lines().any(|row| row.starts_with("protrusive,2,16,mesiopalatal,clearance_mm,")), "{csv}");
}

#[test]
fn like_scenes_do_not_differ() {
    let folder = Folder::new();
    let scene = folder.scene(&Parts::default());
    let compared = json(&["compare", &scene, &scene, "--format", "json"]);
    assert!(compared["settings"].as_array().unwrap().is_empty());
    for excursion in compared["excursions"].as_array().unwrap() {
        for cusp in excursion["cusps"].as_array().unwrap() {
            assert_near(number(&cusp["separation_mm"], "change"), 0.0, 0.0);
            assert!(cusp["differs_in"].as_array().unwrap().is_empty());
        }
    }
}

#[test]
fn a_changed_word_is_told_in_every_format() {
    let folder = Folder::new();
    let scene = folder.scene(&Parts::default());
    let args = |format| run(&["compare", &scene, "--with", "design=NonArcon", "--format", format]).out;
    assert!(args("csv").contains(",design,,,,Arcon,NonArcon,"));
    assert!(args("json").contains(r#""first":"Arcon","second":"NonArcon""#));
    assert!(args("table").lines().any(|line| line.starts_with("design") && line.ends_with("NonArcon")));
}

#[test]
fn nothing_or_too_much_to_compare_is_refused() {
    let folder = Folder::new();
    let scene = folder.scene(&Parts::default());
    let nothing = run(&["compare", &scene]);
    assert_eq!(nothing.status, 2);
    assert!(nothing.err.contains("nothing to compare"), "{}", nothing.err);
    let much = run(&["compare", &scene, &scene, "--with", "design=NonArcon"]);
    assert_eq!(much.status, 2);
    assert!(much.err.contains("two scenes and changes"), "{}", much.err);
}
