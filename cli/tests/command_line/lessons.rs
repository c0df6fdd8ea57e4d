//! `eminentia lesson` and `eminentia viva`. That lessons and questions are right is checked in the checks of
//! the whole.

use serde_json::Value;

use crate::helpers::{json, number, run};

fn lesson_path(name: &str) -> String {
    format!("{}/../lessons/{name}.ron", env!("CARGO_MANIFEST_DIR"))
}

#[test]
fn the_lessons_that_come_with_the_program_are_listed_with_their_sources() {
    let table = run(&["lesson", "list"]).out;
    assert!(table.contains("split_cast: The split cast closes (4 steps, 4 questions)"), "{table}");
    assert!(table.contains("common practice, no source: "), "{table}");
    let list = json(&["lesson", "list", "--format", "json"]);
    assert!(list["lessons"].as_array().unwrap().len() >= 10);
}

#[test]
fn a_sound_lesson_is_called_sound_by_file_and_by_name_and_its_answers_are_told_on_request() {
    let path = lesson_path("inclination");
    for named in [path.as_str(), "inclination"] {
        let done = run(&["lesson", "check", named]);
        assert_eq!(done.status, 0, "{}", done.err);
        assert!(done.out.contains(": sound: What H does"), "{}", done.out);
        assert!(!done.out.contains("1.73 mm"));
    }
    assert!(run(&["lesson", "check", &path, "--answers"]).out.contains("right: 1.73 mm (± 0.05 mm)"));
    let object = json(&["lesson", "check", &path, "--answers", "--format", "json"]);
    let question = &object["lessons"][0]["questions"][0];
    // Three millimetres along thirty degrees.
    assert!((number(question, "value") - 3.0 * 30.0_f64.to_radians().tan()).abs() < 1e-12);
    assert_eq!(question["unit"], "mm");
}

#[test]
fn every_fault_is_told_with_its_line_and_the_other_lessons_are_looked_into_all_the_same() {
    let folder = tempfile::tempdir().unwrap();
    let wrong = std::fs::read_to_string(lesson_path("inclination"))
        .unwrap()
        .replacen("measure: \"drop left\"", "measure: \"drop\"", 1)
        .replacen("{setting horizontal_inclination_deg}", "30°", 1)
        .replacen(
            "model: [\"horizontal_inclination_deg=45\"]",
            "model: [\"horizontal_inclination_deg=31\"]",
            1,
        );
    let path = folder.path().join("wrong.ron");
    std::fs::write(&path, &wrong).unwrap();
    let path = path.to_str().unwrap();
    let line = |what: &str| wrong.lines().position(|line| line.contains(what)).unwrap() + 1;
    let lines = [line("30°"), line("measure: \"drop\""), line("model: [\"horizontal_inclination_deg=31\"]")];
    let done = run(&["lesson", "check", path, "facebow"]);
    assert_eq!(done.status, 2);
    for line in lines {
        assert!(done.out.contains(&format!("{path}:{line}:")), "{line}: {}", done.out);
    }
    assert!(done.out.contains("facebow: sound"), "{}", done.out);
    assert!(done.err.contains("1 of 2 lessons cannot be given"), "{}", done.err);
    let done = run(&["lesson", "check", path, "--format", "json"]);
    let object: Value = serde_json::from_str(&done.out).unwrap();
    assert_eq!((done.status, &object["lessons"][0]["sound"]), (2, &Value::Bool(false)));
    let faults = object["lessons"][0]["faults"].as_array().unwrap();
    let told: Vec<u64> = faults.iter().map(|fault| fault["line"].as_u64().unwrap()).collect();
    assert_eq!(told, lines.map(|line| line as u64));
    let missing = run(&["lesson", "check", "nowhere.ron"]);
    assert_eq!(missing.status, 2);
    assert!(missing.out.contains("nowhere.ron: no such file"), "{}", missing.out);
}

#[test]
fn a_viva_is_the_same_for_the_same_seed_and_its_key_names_the_right_answers() {
    let args = ["viva", "--seed", "3", "--level", "second", "--count", "6"];
    let table = run(&args).out;
    assert_eq!(table, run(&args).out);
    let object = json(&["viva", "--seed", "3", "--level", "second", "--count", "6", "--format", "json"]);
    let key = table.split("\nKey\n").nth(1).expect("a key");
    for (place, question) in object["questions"].as_array().unwrap().iter().enumerate() {
        let answers = question["answers"].as_array().unwrap();
        let right: Vec<usize> = (0..answers.len()).filter(|at| answers[*at]["right"] == true).collect();
        assert_eq!(right, [question["right"].as_u64().unwrap() as usize - 1]);
        let letter = char::from(b'a' + u8::try_from(right[0]).unwrap());
        assert!(key.lines().any(|line| line == format!("{}. {letter}", place + 1)), "{key}");
    }
    assert_eq!(run(&["viva", "--seed", "3", "--count", "0"]).status, 2);
}
