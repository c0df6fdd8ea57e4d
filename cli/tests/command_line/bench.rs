//! `eminentia bench`: the walk in the order of hands. That the gaps are the true ones is checked in the
//! checks of the whole, against a bench made up by bisection.

use serde_json::Value;

use crate::helpers::{assert_near, case_path, json, number, refused, run};

fn steps(args: &[&str]) -> Vec<Value> {
    let case = case_path("bench.ron");
    let all: Vec<&str> =
        ["bench", &case, "--format", "json"].into_iter().chain(args.iter().copied()).collect();
    json(&all)["steps"].as_array().unwrap().clone()
}

fn protrusive(args: &[&str]) -> Value {
    let steps = steps(args);
    steps.into_iter().find(|step| step["record"] == "protrusive").unwrap()
}

#[test]
fn the_steps_come_in_the_order_of_hands() {
    let names: Vec<String> =
        steps(&[]).iter().map(|step| step["step"].as_str().unwrap().to_owned()).collect();
    let order =
        ["zeroed", "split", "centric", "record", "record", "record", "lateral_angle", "lateral_angle"];
    assert_eq!(names[..8], order);
    assert_eq!(names.last().unwrap(), "anterior_guide");
}

/// Turned to where the step says that it closes, the split closes.
#[test]
fn what_a_step_says_to_turn_closes_the_split() {
    let open = protrusive(&[]);
    assert_eq!(open["state"], "open");
    let turns = open["turns"].as_array().unwrap();
    let set: Vec<String> = turns
        .iter()
        .map(|turn| format!("{}={}", turn["side"].as_str().unwrap(), turn["closes_at_deg"]))
        .collect();
    let closed = protrusive(&["--set", &set.join(",")]);
    assert_eq!(closed["state"], "closed");
    for gap in closed["gaps"].as_array().unwrap() {
        assert_near(number(gap, "gap_mm"), 0.0, 1e-9);
    }
}

/// At the angles at which the case's gaps were measured they come back, to the caliper's reading.
#[test]
fn the_gaps_that_were_measured_come_back() {
    let measured = [0.60, 0.90, 0.15, 0.60, 0.0, 0.10];
    let at = protrusive(&["--set", "right=38,left=38"]);
    for (gap, measured) in at["gaps"].as_array().unwrap().iter().zip(measured) {
        assert_near(number(gap, "gap_mm"), measured, 0.15);
    }
}

#[test]
fn the_table_says_what_to_do_and_what_to_doubt() {
    let done = run(&["bench", &case_path("bench.ron"), "--set", "right=40,left=22"]).out;
    for said in [
        "right H 40.0°",
        "Turn the right guide about 6.2° shallower",
        "Turn the left guide about 6.5° steeper",
        "would pierce its sphere",
        "anterior reference point lower border of the orbit",
        "verified on the patient",
    ] {
        let flat = done.split_whitespace().collect::<Vec<&str>>().join(" ");
        assert!(flat.contains(said), "{said}: {done}");
    }
}

#[test]
fn a_centric_record_that_is_not_confirmed_ends_the_walk() {
    let left = run(&["bench", &case_path("faulty_centric.ron")]);
    assert_eq!(left.status, 1);
    let done = left.out;
    assert!(done.contains("Take the centric record again"), "{done}");
    assert!(!done.contains("lateral angle of the"), "{done}");
}

#[test]
fn an_angle_that_is_none_is_refused_with_what_would_do() {
    let case = case_path("bench.ron");
    for (set, said) in [
        ("right", "as in right=30"),
        ("middle=3", "allowed are right, left, right-lateral, left-lateral"),
        ("right=steep", "no number of degrees"),
        ("left=120", "horizontal_inclination_deg"),
    ] {
        refused(&run(&["bench", &case, "--set", set]), &[said]);
    }
}
