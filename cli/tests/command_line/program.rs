//! `eminentia program`: settings out of records, withheld where they must be, and every fault of a
//! case told with its place. That the settings are the true ones is checked where the truth is kept,
//! in the checks of the whole.

use serde_json::Value;

use crate::helpers::{
    Folder, assert_near, case_path, case_text, eminentia, json, left, number, refused, run,
};

const CAUTION: &str = "verified on the patient";

fn keys(object: &Value) -> Vec<&str> {
    object.as_object().unwrap().keys().map(String::as_str).collect()
}

#[test]
fn json_has_every_field_that_other_programs_rely_on() {
    let done = json(&["program", &case_path("dentate.ron"), "--format", "json"]);
    assert_eq!(done["title"], "Dentate case (invented)");
    for (side, lateral) in [("right", "left lateral record"), ("left", "right lateral record")] {
        let guide = &done["settings"][side];
        for (setting, from) in
            [("horizontal_inclination_deg", "protrusive record"), ("lateral_angle_deg", lateral)]
        {
            let angle = &guide[setting];
            assert!((5.0..60.0).contains(&number(angle, "value")), "{angle}");
            assert!((0.05..2.0).contains(&number(angle, "standard_error")), "{angle}");
            assert_eq!(angle["from"], from);
        }
        assert_eq!(guide["horizontal_inclination_deg"]["records"], 2);
        assert!(number(&guide["horizontal_inclination_deg"], "scatter") > 0.0);
    }
    assert_eq!(done["centric"]["confirmed"], true);
    assert!(number(&done["centric"], "largest_gap_mm") < number(&done["centric"], "tolerance_mm"));
    assert!((0.0..0.2).contains(&number(&done["centric"], "false_alarm_probability")));
    let records = done["records"].as_array().unwrap();
    let names: Vec<&Value> = records.iter().map(|record| &record["name"]).collect();
    assert_eq!(names, ["centric", "protrusive", "protrusive", "right_lateral", "left_lateral"]);
    for record in records {
        assert!((0.0..0.3).contains(&number(record, "fit_rms_mm")), "{record}");
        for condyle in ["right_condyle", "left_condyle"] {
            assert_eq!(keys(&record[condyle]), ["advance_mm", "drop_mm", "medial_mm"]);
        }
    }
    assert_eq!(done["warnings"].as_array().unwrap().len(), 0, "{}", done["warnings"]);
    assert_eq!(done["scene"]["title"], done["title"]);
    for side in ["right", "left"] {
        let guide = &done["scene"]["instrument"][format!("{side}_guide")];
        for setting in ["horizontal_inclination_deg", "lateral_angle_deg"] {
            assert_eq!(number(guide, setting), number(&done["settings"][side][setting], "value"));
        }
    }
}

#[test]
fn the_bench_way_finds_the_same_settings_within_their_errors_and_says_what_gap_is_left() {
    let done = json(&["program", &case_path("dentate.ron"), "--format", "json"]);
    let bench = &done["bench"];
    for side in ["right", "left"] {
        for setting in ["horizontal_inclination_deg", "lateral_angle_deg"] {
            let read = &done["settings"][side][setting];
            let apart = (number(&bench[side], setting) - number(read, "value")).abs();
            assert!(apart <= 2.0 * number(read, "standard_error"), "{side} {setting}: {apart}° apart");
        }
    }
    assert!(number(bench, "gap_rms_mm") <= number(bench, "largest_gap_mm"));
    assert!((0.0..0.1).contains(&number(bench, "largest_gap_mm")));
    let withheld = run(&["program", &case_path("faulty_centric.ron"), "--format", "json"]);
    assert!(!withheld.out.contains("\"bench\""));
}

#[test]
fn the_scene_is_opened_by_excursion_and_is_the_one_of_the_json() {
    let folder = Folder::new();
    for case in ["dentate.ron", "edentulous.ron"] {
        let scene = folder.shell("programmed.ron");
        let done = json(&["program", &case_path(case), "--format", "json", "--scene-out", &scene]);
        let moved = json(&["excursion", &scene, "--format", "json"]);
        let names: Vec<&Value> =
            moved["excursions"].as_array().unwrap().iter().map(|one| &one["name"]).collect();
        assert_eq!(names, ["protrusive", "right_lateral", "left_lateral"]);
        let last = moved["excursions"][0]["samples"].as_array().unwrap().last().unwrap();
        let h = number(&done["settings"]["right"]["horizontal_inclination_deg"], "value");
        assert_near(number(&last["right_condyle"], "drop_mm"), 6.0 * h.to_radians().tan(), 1e-9);
        assert_eq!(last["cusps"].as_array().unwrap().len(), done["scene"]["cusps"].as_array().unwrap().len());
        let read = sim_core::scene::Scene::from_ron(&std::fs::read_to_string(&scene).unwrap()).unwrap();
        assert_eq!(serde_json::to_value(&read).unwrap(), done["scene"]);
    }
    assert_eq!(folder.names(), ["programmed.ron"]);
}

#[test]
fn an_unconfirmed_centric_record_withholds_settings_and_scene_and_tells_the_direction() {
    let folder = Folder::new();
    let scene = folder.file("scene.ron", "old");
    for format in ["table", "json"] {
        let left =
            run(&["program", &case_path("faulty_centric.ron"), "--format", format, "--scene-out", &scene]);
        assert_eq!(left.status, 1, "{}", left.err);
        assert!(left.err.contains("not confirmed") && left.err.contains("again"), "{}", left.err);
        let whole = left.out.replace('\n', " ");
        for words in ["too far forward", "too far right", "too low"] {
            assert!(whole.contains(words), "{words}: {whole}");
        }
        if format == "json" {
            let done: Value = serde_json::from_str(&left.out).unwrap();
            assert!(done.get("settings").is_none() && done.get("scene").is_none(), "{done}");
            assert_eq!(done["centric"]["confirmed"], false);
            assert!(number(&done["centric"]["shift_mm"], "forward") < -0.4, "{done}");
            assert_eq!(done["records"].as_array().unwrap().len(), 4);
            assert!(done["warnings"].is_array());
        } else {
            assert!(whole.contains("NOT CONFIRMED") && whole.contains("taken again"), "{whole}");
            assert!(!whole.contains("right guide  H"), "{whole}");
        }
    }
    assert_eq!(std::fs::read_to_string(&scene).unwrap(), "old");
}

#[test]
fn the_table_has_settings_with_errors_the_verdict_and_the_caution_and_fits_eighty_columns() {
    for case in ["dentate.ron", "edentulous.ron", "faulty_centric.ron"] {
        for columns in ["80", "100"] {
            let command = ["program", &case_path(case)];
            let table = left(eminentia().args(command).env("COLUMNS", columns)).out;
            let widest = table.lines().map(|line| line.chars().count()).max().unwrap();
            assert!(widest <= columns.parse().unwrap(), "{widest} in {columns}:\n{table}");
            assert!(table.lines().all(|line| line == line.trim_end()), "{table}");
            assert_eq!(table.replace('\n', " ").matches(CAUTION).count(), 1, "{table}");
        }
    }
    let table = run(&["program", &case_path("dentate.ron")]).out;
    for words in
        ["CONFIRMED", "mean of 2 protrusive records", "right guide", "±", "tolerance 0.10 mm", "by chance"]
    {
        assert!(table.contains(words), "{words}: {table}");
    }
    let averages = run(&["program", &case_path("edentulous.ron")]).out.replace('\n', " ");
    assert!(
        averages.contains("Mounted by averages") && averages.contains("lateral incisor left"),
        "{averages}"
    );
}

#[test]
fn without_a_repeat_the_settings_are_given_with_a_warning() {
    let folder = Folder::new();
    let text = case_text("dentate.ron");
    let start = text.find("        Centric(").unwrap();
    let end = start + text[start..].find("]),\n").unwrap() + 4;
    let case = folder.file("case.ron", text[..start].to_owned() + &text[end..]);
    let done = json(&["program", &case, "--format", "json"]);
    assert_eq!(done["centric"], Value::Null);
    assert!(done["settings"]["right"].is_object());
    assert!(done["warnings"][0].as_str().unwrap().contains("nothing confirms"), "{}", done["warnings"]);
    assert!(run(&["program", &case]).out.contains("NOT CHECKED"));
}

#[test]
fn without_lateral_records_the_rule_is_labelled() {
    let folder = Folder::new();
    let text = case_text("dentate.ron");
    let start = text.find("        RightLateral(").unwrap();
    let end = start + text[start..].find("    ],\n    incisal_point_mm").unwrap();
    let case = folder.file("case.ron", text[..start].to_owned() + &text[end..]);
    let done = json(&["program", &case, "--format", "json"]);
    let right = &done["settings"]["right"];
    assert_eq!(right["lateral_angle_deg"]["from"], "H/8 + 12 rule");
    let h = number(&right["horizontal_inclination_deg"], "value");
    // Common practice, no source.
    assert_near(number(&right["lateral_angle_deg"], "value"), h / 8.0 + 12.0, 1e-9);
    assert!(done["warnings"].to_string().contains("H/8 + 12 rule"));
}

#[test]
fn a_case_is_taken_from_standard_input_and_not_written_over() {
    let text = case_text("dentate.ron");
    let piped = left(eminentia().args(["program", "-", "--format", "json"]).write_stdin(text.clone()));
    assert_eq!(piped.status, 0, "{}", piped.err);
    assert_eq!(piped.out, run(&["program", &case_path("dentate.ron"), "--format", "json"]).out);
    let folder = Folder::new();
    let case = folder.file("case.ron", &text);
    for option in ["--out", "--scene-out"] {
        let left = run(&["program", &case, option, &case]);
        assert_eq!(left.status, 2);
        let told = format!("{option} {case}: is the case that is read");
        assert!(left.err.contains(&told), "{}", left.err);
    }
    let out = folder.shell("out");
    assert_eq!(run(&["program", &case, "--out", &out, "--scene-out", &out]).status, 2);
    assert_eq!(std::fs::read_to_string(&case).unwrap(), text);
    assert_eq!(run(&["program", &case, "--out", &out]).status, 0);
    assert_eq!(std::fs::read_to_string(&out).unwrap(), run(&["program", &case]).out);
}

#[test]
fn a_title_cannot_steer_the_terminal() {
    let folder = Folder::new();
    let case = folder.file("case.ron", case_text("dentate.ron").replace("Dentate", "\\u{1b}[35mDentate"));
    let left = left(eminentia().args(["program", &case]).env("CLICOLOR_FORCE", "1"));
    assert!(left.out.contains("[35mDentate") && !left.out.contains("\u{1b}[35m"), "{}", left.out);
}

/// A case with one text in it replaced is refused at the line where `at` stands, in these words.
fn refused_in(text: &str, at: &str, words: &[&str]) {
    let folder = Folder::new();
    let place = text.lines().position(|line| !line.starts_with("//") && line.contains(at));
    let line = place.unwrap_or_else(|| panic!("{at} is in the case")) + 1;
    let case = folder.file("case.ron", text);
    let told = format!("{case}:{line}:");
    refused(&run(&["program", &case]), &[&[told.as_str()], words].concat());
}

fn changed(from: &str, to: &str) -> String {
    let text = case_text("dentate.ron");
    assert!(text.contains(from), "{from} is in the case");
    text.replacen(from, to, 1)
}

/// The first landmark of a list that begins so, rewritten.
fn landmark_changed(list: &str, to: &str) -> String {
    let text = case_text("dentate.ron");
    let start = text.find(list).unwrap() + list.len();
    let start = start + text[start..].find('(').unwrap();
    let end = start + text[start..].find("),").unwrap() + 2;
    text[..start].to_owned() + to + &text[end..]
}

#[test]
fn a_missing_empty_or_truncated_case_is_refused() {
    refused(&run(&["program", "no/such.ron"]), &["no/such.ron: no such file", "scenes/cases"]);
    let folder = Folder::new();
    refused(&run(&["program", &folder.shell("")]), &["is a folder; a case is a file"]);
    refused(&run(&["program", &folder.file("empty.ron", "")]), &["empty.ron:1:1:"]);
    let text = case_text("dentate.ron");
    for end in [700, text.len() / 2, text.len() - 3] {
        refused(&run(&["program", &folder.file("cut.ron", &text[..end])]), &["cut.ron:"]);
    }
    refused(&run(&["program", &folder.file("junk.ron", b"\xff")]), &["not UTF-8", "a case is a text"]);
    refused(&run(&["program"]), &["CASE"]);
    refused(&run(&["program", &case_path("dentate.ron"), "--format", "csv"]), &["table, json"]);
}

#[test]
fn unknown_missing_and_wrong_fields_of_a_case_are_named_with_their_place() {
    refused_in(&changed("sd_mm", "sd"), "sd: ", &["`sd`", "sd_mm"]);
    refused_in(&changed("design: Arcon,", "design: Arkon,"), "design", &["Arkon", "NonArcon"]);
    refused_in(&changed("sd_mm: 0.03", "sd_mm: -0.03"), "sd_mm", &["sd_mm is -0.03", "0 to 5 mm"]);
    refused_in(&changed("sd_mm: 0.03", "sd_mm: NaN"), "sd_mm", &["lower_landmarks.sd_mm", "NaN", "±1000 mm"]);
    refused_in(
        &changed("intercondylar_distance_mm: 110.0", "intercondylar_distance_mm: 11.0"),
        "intercondylar_distance_mm",
        &["intercondylar_distance_mm", "11"],
    );
    refused_in(&landmark_changed("in_centric_mm: ", "(NaN, 0.0, 0.0),"), "NaN", &["in_centric_mm[0]", "NaN"]);
    refused_in(
        &landmark_changed("Protrusive(lower_landmarks_mm", "(2000.0, 0.0, 0.0),"),
        "2000.0",
        &["records[1]", "±1000 mm"],
    );
    refused_in(&changed("tooth: 36", "tooth: 39"), "tooth: 39", &["cusps[0].tooth is 39", "31 to 38"]);
    refused_in(
        &changed("    cusps: [", "    split_cast_tolerance_mm: -1.0,\n    cusps: ["),
        "split_cast_tolerance_mm",
        &["split_cast_tolerance_mm is -1", "0 to 5 mm"],
    );
    let folder = Folder::new();
    let without = folder.file("case.ron", changed("    design: Arcon,\n", ""));
    refused(&run(&["program", &without]), &["case.ron:", "design"]);
}

#[test]
fn records_that_do_not_match_or_are_no_motion_are_refused() {
    refused_in(
        &landmark_changed("Protrusive(lower_landmarks_mm", ""),
        "records",
        &["records[1]", "protrusive", "7 landmarks"],
    );
    let text = case_text("dentate.ron");
    let record = |pose: &str| {
        let start = text.find("        Protrusive(").unwrap() + "        Protrusive(".len();
        let end = start + text[start..].find("]),\n").unwrap() + 1;
        text[..start].to_owned() + pose + &text[end..]
    };
    let stretched =
        "((1.1, 0.0, 0.0, 5.0), (0.0, 1.0, 0.0, 0.0), (0.0, 0.0, 1.0, 0.0), (0.0, 0.0, 0.0, 1.0))";
    refused_in(&record(&format!("transform: {stretched}")), "records", &["records[1]", "rigid motion"]);
    let mirrored = stretched.replace("1.1", "-1.0");
    refused_in(&record(&format!("transform: {mirrored}")), "records", &["records[1]", "rigid motion"]);
    refused_in(&record(""), "records", &["records[1]", "second record", "does not give its pose"]);
    refused_in(&record("groove_gaps_mm: [0.0]"), "records", &["centric repeat"]);
    // Two landmarks in every list.
    let mut few = String::new();
    let mut kept = 0;
    for line in text.lines() {
        let is_landmark = line.starts_with("            (");
        kept = if is_landmark { kept + 1 } else { 0 };
        if kept <= 2 {
            few += line;
            few.push('\n');
        }
    }
    refused_in(&few, "in_centric_mm", &["in_centric_mm has 2 landmarks", "at least 3"]);
    let start = text.find("    records: [").unwrap();
    let end = start + text[start..].find("    ],\n    incisal").unwrap() + "    ],\n".len();
    let none = text[..start].to_owned() + "    records: [],\n" + &text[end..];
    refused_in(&none, "records", &["records is empty"]);
}

#[test]
fn mountings_and_records_that_no_patient_has_are_refused_with_the_field() {
    let text = case_text("dentate.ron");
    let swapped = text
        .replace("right_axis_mm", "other_mm")
        .replace("left_axis_mm", "right_axis_mm")
        .replace("other_mm", "left_axis_mm");
    refused_in(&swapped, "mounting", &["field mounting", "swapped"]);
    let axis = |name: &str| {
        let start = text.find(name).unwrap() + name.len() + 2;
        text[start..start + text[start..].find(')').unwrap() + 1].to_owned()
    };
    let in_line = text.replace(&axis("anterior_reference_mm"), &axis("right_axis_mm"));
    refused_in(&in_line, "mounting", &["field mounting", "from the line through the axis points"]);
    let narrow = text.replace(&axis("left_axis_mm"), &axis("right_axis_mm"));
    refused_in(&narrow, "mounting", &["0.0 mm apart", "75 to 145 mm"]);
    let sides = text.replace("RightLateral(", "Other(").replace("LeftLateral(", "RightLateral(");
    refused_in(&sides.replace("Other(", "LeftLateral("), "records", &["condyle has advanced"]);
    refused_in(&changed("tooth: 36", "tooth: 45"), "cusps", &["cusps[0]", "tooth 45", "right"]);
    let folder = Folder::new();
    let twice = text.replacen("tooth: 37", "tooth: 36", 1);
    refused(&run(&["program", &folder.file("case.ron", twice)]), &["tooth 36", "twice"]);
}
