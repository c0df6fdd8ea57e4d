//! Study files with a mistake: refused with file, line, column, what was given and what is allowed.

use std::fs;

use crate::support::{Folder, SCENE, run, study};

/// Puts a mistake into a good study; it is refused where the mistake is (a line, or a line and column), in
/// these words.
fn mistaken(change: (&str, &str), place: &str, words: &[&str]) {
    let folder = Folder::new();
    let good = fs::read_to_string(study(&folder, "FullGrid")).unwrap();
    assert_eq!(good.matches(change.0).count(), 1, "{}", change.0);
    let wrong = folder.file("wrong.ron", good.replace(change.0, change.1));
    for command in ["run", "plan"] {
        let left = run(&["study", command, &wrong]);
        left.refused(words);
        let place = format!("wrong.ron:{place}");
        assert!(left.err.contains(&place), "{place} not in: {}", left.err);
    }
    assert!(!folder.path("wrong.parquet").exists());
}

const H: &str = "(setting: \"horizontal_inclination_deg\", values: List([20.0, 30.0, 40.0])),\n";
const SAGITTAL: &str = "(setting: \"anterior_guide.sagittal_inclination_deg\", values: List([0.0, 20.0])),\n";
const END: &str = "plan: FullGrid";

#[test]
fn factors_that_do_not_go_together() {
    let none = format!("factors: [\n{H}{SAGITTAL}]");
    mistaken((&none, "factors: []"), "4:1", &["factors is empty", "give at least one"]);
    mistaken(
        (SAGITTAL, "(setting: \"right_guide.horizontal_inclination_deg\", values: List([1.0]))\n"),
        "6:11",
        &["`horizontal_inclination_deg` and `right_guide.horizontal_inclination_deg` set the same number"],
    );
    mistaken(
        ("\"horizontal_inclination_deg\"", "\"horizontal_inclinaton_deg\""),
        "5:",
        &["horizontal_inclination_deg"],
    );
    mistaken(
        (SAGITTAL, "(setting: \"cusps.37.buccal.protrusive_deg\", values: List([1.0]))\n"),
        "6:11",
        &["37.buccal", "36.mesiobuccal"],
    );
    mistaken(
        (SAGITTAL, "(setting: \"invented_casts.overjet_mm\", values: List([1.0]))\n"),
        "6:11",
        &["casts are made once"],
    );
    mistaken(("List([20.0, 30.0, 40.0])", "List([20.0, 95.0])"), "5:", &["horizontal_inclination_deg", "95"]);
    mistaken(("List([20.0, 30.0, 40.0])", "Uniform(min: 20.0, max: 30.0)"), "5:", &["FullGrid needs levels"]);
    mistaken(("List([20.0, 30.0, 40.0])", "Uniform(min: 30.0, max: 20.0)"), "5:", &["min must be less"]);
    mistaken(
        ("List([20.0, 30.0, 40.0])", "Published(\"nothing\")"),
        "5:",
        &["no published distribution is called `nothing`"],
    );
}

#[test]
fn constraints_that_cannot_be_kept() {
    let with = |constraint: &str| format!("constraints: [{constraint}],\n{END}");
    mistaken(
        (
            END,
            &with(
                "Derived(setting: \"lateral_angle_deg\", by: HOverEightPlusTwelve(of: \"incisal_point_mm.x\"))",
            ),
        ),
        "8:",
        &["incisal_point_mm.x"],
    );
    mistaken((END, &with("LeftEqualsRight(\"incisal_point_mm.x\")")), "8:", &["condylar guide's setting"]);
    mistaken(
        (
            END,
            &with(
                "Correlated(between: [\"horizontal_inclination_deg\", \"anterior_guide.sagittal_inclination_deg\"], matrix: [[1.0, 0.5], [0.5, 1.0]])",
            ),
        ),
        "8:",
        &["FullGrid does not keep correlations"],
    );
    mistaken(
        (
            END,
            &with(
                "Correlated(between: [\"horizontal_inclination_deg\", \"anterior_guide.sagittal_inclination_deg\"], matrix: [[1.0, 0.5], [0.4, 1.0]])",
            ),
        ),
        "8:",
        &["matrix has"],
    );
}

#[test]
fn plans_and_records_that_give_nothing() {
    mistaken(
        ("FullGrid", "MonteCarlo(rows: 0, seed: 1)"),
        "8:",
        &["rows", "allowed are whole numbers from 1 to"],
    );
    mistaken(("FullGrid", "FullGird"), "8:", &["FullGird"]);
    mistaken(("[Clearance, Guidance]", "[]"), "9:", &["measures is empty"]);
    mistaken(("[Clearance, Guidance]", "[Clearance, Clearance]"), "9:", &["Clearance is listed twice"]);
    mistaken(("[2.0, 3.0]", "[2.0, 99.0]"), "9:", &["99"]);
    mistaken(("[2.0, 3.0]", "[2.0, 2.0]"), "9:", &["listed twice in advances_mm"]);
    mistaken(("advances_mm: [2.0, 3.0]", "cusps: [\"47.buccal\"]"), "9:", &["47.buccal", "36.mesiobuccal"]);
    mistaken(("advances_mm: [2.0, 3.0]", "excursions: []"), "9:", &["excursions is empty"]);
    mistaken(
        (
            "measures: [Clearance, Guidance], advances_mm: [2.0, 3.0]",
            "measures: [BennettMovement], excursions: [Protrusive(advance_mm: 3.0)]",
        ),
        "9:",
        &["BennettMovement gives no column", "no lateral excursion"],
    );
}

#[test]
fn columns_that_cannot_be_had() {
    let column = |text: &str, words: &[&str]| {
        let folder = Folder::new();
        let good = fs::read_to_string(study(&folder, "FullGrid")).unwrap();
        folder.file("angles.csv", text);
        let values = "Column(file: \"angles.csv\", column: \"h\")";
        let study = folder.file("study.ron", good.replace("List([20.0, 30.0, 40.0])", values));
        let left = run(&["study", "run", &study]);
        left.refused(&["study.ron:5:11: "]);
        left.refused(words);
    };
    column("", &["from column \"h\" of angles.csv", "the file is empty"]);
    column("a,b\n1,2\n", &["no column is called so", "\"a\", \"b\""]);
    column("h\n", &["nothing under the first line"]);
    column("x,h\n1,30\n2,steep\n", &["line 3 has `steep`", "finite number"]);
    column("h\nNaN\n", &["line 2 has `NaN`"]);
    column("x,h\n1,30\n2\n", &["line 3 has 1 cells where the first has 2"]);
    column("h\n95\n", &["95"]);

    let folder = Folder::new();
    let good = fs::read_to_string(study(&folder, "FullGrid")).unwrap();
    let values = "Column(file: \"nowhere.csv\", column: \"h\")";
    let study = folder.file("study.ron", good.replace("List([20.0, 30.0, 40.0])", values));
    run(&["study", "run", &study]).refused(&["nowhere.csv: no such file"]);
}

#[test]
fn files_that_are_not_there_or_are_something_else() {
    let folder = Folder::new();
    run(&["study", "run", &folder.shell("none.ron")])
        .refused(&["none.ron: no such file", "eminentia study example"]);
    run(&["study", "run", &folder.shell("")]).refused(&["is a folder", "a study is a file"]);
    let study = study(&folder, "FullGrid");
    fs::remove_file(folder.path("scene.ron")).unwrap();
    run(&["study", "run", &study]).refused(&["scene.ron: no such file", "(the base scene of", "study.ron)"]);
    folder.file("scene.ron", SCENE.replace("CASTS", "").replace("samples: 7", "samples: 1"));
    run(&["study", "run", &study]).refused(&["scene.ron:16:", "samples", "(the base scene of"]);
    folder.file("scene.ron", SCENE.replace("CASTS", "casts: (upper: \"u.stl\", lower: \"l.stl\"),"));
    run(&["study", "run", &study]).refused(&["scene.ron: ", "u.stl"]);
}
