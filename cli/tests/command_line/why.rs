//! `eminentia why`: the account of a number. That parts and slopes are right is checked in the checks of the
//! whole; here, that the command says them of the number it was asked for.

use serde_json::Value;

use crate::helpers::{BY_TEETH, COARSE_CASTS, Folder, Parts, assert_near, json, number, refused, run};

fn why(args: &[&str]) -> Value {
    json(&[&["why"], args, &["--format", "json"]].concat())
}

fn sum(account: &Value) -> f64 {
    account["parts"].as_array().unwrap().iter().map(|part| number(part, "amount")).sum()
}

#[test]
fn the_account_is_of_the_number_that_excursion_tells() {
    let folder = Folder::new();
    let scene = folder.scene(&Parts::default());
    let made = json(&["excursion", &scene, "--format", "json"]);
    for (excursion, name) in [(0, "protrusive"), (1, "right_lateral")] {
        let last = made["excursions"][excursion]["samples"].as_array().unwrap().last().unwrap().clone();
        for (cusp, which) in [(0, "36:mesiobuccal"), (1, "16:mesiopalatal")] {
            for of in ["separation", "clearance"] {
                let account = why(&[&scene, "--excursion", name, "--cusp", which, "--number", of]);
                assert_near(
                    number(&account, "value"),
                    number(&last["cusps"][cusp], &format!("{of}_mm")),
                    1e-12,
                );
                assert_near(sum(&account), number(&account, "value"), 1e-12);
                assert_eq!((&account["number"], &account["unit"]), (&of.into(), &"mm".into()));
            }
        }
        for (of, told) in [
            ("right-drop", &last["right_condyle"]["drop_mm"]),
            ("left-medial", &last["left_condyle"]["medial_mm"]),
            ("opening", &last["opening_deg"]),
        ] {
            let account = why(&[&scene, "--excursion", name, "--number", of]);
            assert_near(number(&account, "value"), told.as_f64().unwrap(), 1e-12);
            assert_near(sum(&account), number(&account, "value"), 1e-12);
            assert!(account["tooth"].is_null());
        }
    }
}

#[test]
fn a_slope_is_what_a_small_change_does() {
    let folder = Folder::new();
    let scene = folder.scene(&Parts::default());
    let at = |degrees: f64| {
        let change = format!("left_guide.horizontal_inclination_deg={degrees}");
        why(&[&scene, "--at", "3", "--cusp", "36", "--with", &change])
    };
    let account = at(40.0);
    let slopes = account["slopes"].as_array().unwrap();
    let left =
        slopes.iter().find(|slope| slope["setting"] == "left_guide.horizontal_inclination_deg").unwrap();
    let quotient = (number(&at(40.01), "value") - number(&at(39.99), "value")) / 0.02;
    assert_near(number(left, "raised"), quotient, 1e-5);
    assert!(quotient > 0.001, "{quotient}");
    // What moves it most stands first.
    let steepness = |slope: &Value| number(slope, "raised").abs().max(number(slope, "lowered").abs());
    assert!(slopes.windows(2).all(|pair| steepness(&pair[0]) >= steepness(&pair[1])));
}

#[test]
fn the_table_says_parts_formulas_and_what_moves_it() {
    let folder = Folder::new();
    let scene = folder.scene(&Parts::default());
    let table =
        run(&["why", &scene, "--excursion", "protrusive", "--at", "3", "--cusp", "36:mesiobuccal"]).out;
    for said in [
        "clearance at 36 mesiobuccal, protrusive, condylar advance 3.00 mm: ",
        "1 right condyle drops",
        "v = 2.517 mm",
        "jaw turns on to its guide: table plate",
        "protrusive incline rises",
        "With a level guide in front the condylar guides give",
        "docs/model.md",
        "a degree more of horizontal condylar inclination H, left: +",
    ] {
        assert!(table.contains(said), "{said:?} not in: {table}");
    }
    assert!(table.lines().all(|line| line.chars().count() <= 100), "{table}");
}

#[test]
fn at_rest_every_part_is_nothing() {
    let folder = Folder::new();
    let account = why(&[&folder.scene(&Parts::default()), "--at", "0"]);
    assert_near(number(&account, "value"), 0.0, 1e-12);
    for part in account["parts"].as_array().unwrap() {
        assert_near(number(part, "amount"), 0.0, 1e-12);
    }
}

#[test]
fn where_teeth_guide_no_slope_is_told_and_the_reason_is() {
    let folder = Folder::new();
    let parts = Parts { casts: COARSE_CASTS, anterior_guide: BY_TEETH, ..Parts::default() };
    let account = why(&[&folder.scene(&parts), "--at", "2", "--cusp", "36"]);
    assert!(account["slopes"].is_null());
    assert!(account["no_slopes_because"].as_str().unwrap().starts_with("Teeth may stop the closing"));
    assert_near(sum(&account), number(&account, "value"), 1e-12);
}

#[test]
fn what_there_is_not_is_refused_with_what_there_is() {
    let folder = Folder::new();
    let scene = folder.scene(&Parts::default());
    refused(
        &run(&["why", &scene, "--cusp", "46:buccal"]),
        &["--cusp 46:buccal", "36:mesiobuccal, 16:mesiopalatal"],
    );
    refused(&run(&["why", &scene, "--excursion", "sideways"]), &["--excursion sideways", "right_lateral"]);
    refused(&run(&["why", &scene, "--at", "-1"]), &["--at"]);
    refused(&run(&["why", &scene, "--number", "height"]), &["possible values"]);
    let empty = folder.scene(&Parts { cusps: "", ..Parts::default() });
    refused(&run(&["why", &empty]), &["--number", "lists no cusps"]);
}
