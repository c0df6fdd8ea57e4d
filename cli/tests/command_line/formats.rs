//! The form of what comes out: fields, columns, words, colours.

use serde_json::Value;

use crate::helpers::{Folder, LEVEL_TABLE, Parts, TWO_CUSPS, assert_near, csv, eminentia, json, left, run};

const CAUTION: &str = "verified on the patient";
const ESCAPE: char = '\u{1b}';

/// Cusps as steep as this run into what a level table lets them.
const STEEP: &str = "(tooth: 36, name: \"mesiobuccal\", at_mm: (58.0, 25.0, -38.0), opposing: \
    (protrusive_deg: 60.0, retrusive_deg: 60.0, working_deg: 60.0, nonworking_deg: 60.0))";

fn keys(object: &Value) -> Vec<&str> {
    object.as_object().unwrap().keys().map(String::as_str).collect()
}

#[test]
fn json_has_every_field_that_other_programs_rely_on() {
    let folder = Folder::new();
    let run = json(&["excursion", &folder.scene(&Parts::default()), "--format", "json"]);
    assert_eq!(run["title"], "Written by a test");
    let names: Vec<&Value> = run["excursions"].as_array().unwrap().iter().map(|one| &one["name"]).collect();
    assert_eq!(names, ["protrusive", "right_lateral"]);
    let sample = &run["excursions"][0]["samples"][0];
    for field in [
        "advance_mm",
        "jaw_pose",
        "right_condyle",
        "left_condyle",
        "incisal_point_mm",
        "opening_deg",
        "guided_by",
        "cusps",
    ] {
        assert!(keys(sample).contains(&field), "{field} in {sample}");
    }
    let sorted = |mut names: Vec<&'static str>| {
        names.sort_unstable();
        names
    };
    assert_eq!(keys(&sample["jaw_pose"]), ["rotation", "translation_mm"]);
    assert_eq!(keys(&sample["left_condyle"]), sorted(vec!["advance_mm", "medial_mm", "drop_mm"]));
    assert_eq!(sample["guided_by"], "table");
    for field in ["tooth", "name", "separation_mm", "clearance_mm"] {
        assert!(keys(&sample["cusps"][0]).contains(&field), "{field}");
    }
    assert!(run["excursions"][0].get("failure").is_none());
}

#[test]
fn csv_has_one_row_a_sample_and_cusp() {
    let folder = Folder::new();
    let text = csv(&["excursion", &folder.scene(&Parts::default()), "--format", "csv"]);
    assert!(text.starts_with("excursion,excursion_number,sample,advance_mm,"), "{text}");
    assert_eq!(text.lines().count(), 1 + 2 * 7 * 2);
}

#[test]
fn csv_of_a_scene_without_cusps_has_one_row_a_sample_with_empty_cusp_fields() {
    let folder = Folder::new();
    let scene = folder.scene(&Parts { cusps: "", ..Parts::default() });
    let text = csv(&["excursion", &scene, "--format", "csv"]);
    assert_eq!(text.lines().count(), 1 + 2 * 7);
    let columns = text.lines().next().unwrap().split(',').count();
    for row in text.lines().skip(1) {
        assert!(row.ends_with(",,,,,"), "{row}");
        assert_eq!(row.split(',').count(), columns, "{row}");
    }
}

#[test]
fn the_table_tells_interferences_and_sides_in_words() {
    let folder = Folder::new();
    let scene = folder.scene(&Parts { cusps: STEEP, ..Parts::default() });
    let table = run(&["excursion", &scene]).out;
    assert!(table.contains("interferes at 6.00"), "{table}");
    assert!(table.contains("orbiting side"), "{table}");
    let mirrored =
        folder.scene(&Parts { cusps: STEEP, excursions: "LeftLateral(advance_mm: 5.0)", ..Parts::default() });
    let table = run(&["excursion", &mirrored]).out;
    assert!(table.contains("working side") && !table.contains("orbiting side"), "{table}");
    let clear = folder.scene(&Parts {
        anterior_guide: &LEVEL_TABLE
            .replace("sagittal_inclination_deg: 0", "sagittal_inclination_deg: 70")
            .leak()[..],
        excursions: "Protrusive(advance_mm: 6.0)",
        ..Parts::default()
    });
    let table = run(&["excursion", &clear]).out;
    assert!(!table.contains("interferes"), "{table}");
}

#[test]
fn an_opened_instruments_separation_counts_from_where_the_excursion_starts() {
    let opened = format!("{}/../scenes/opened_arcon.ron", env!("CARGO_MANIFEST_DIR"));
    let told = json(&["excursion", &opened, "--format", "json"]);
    let samples = told["excursions"][0]["samples"].as_array().unwrap();
    let of = |sample: &Value, field: &str| sample["cusps"][0][field].as_f64().unwrap();
    let (start, end) = (&samples[0], samples.last().unwrap());
    // The pin alone holds the premolar off by more than three millimetres.
    assert!(of(start, "separation_mm") > 3.0);
    assert_eq!(of(start, "separation_from_start_mm"), 0.0);
    let moved = of(end, "separation_mm") - of(start, "separation_mm");
    assert_near(of(end, "separation_from_start_mm"), moved, 1e-12);
    let table = run(&["excursion", &opened]).out;
    let row = table.lines().find(|line| line.starts_with("34 buccal")).unwrap();
    assert!(row.contains(&format!(" {moved:.2} ")), "{row}");
    let legend = table.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(legend.contains("clear. and least count that in, sep. does not"), "{table}");
    let rows = csv(&["excursion", &opened, "--format", "csv"]);
    let column = rows.lines().next().unwrap().split(',').position(|name| name == "separation_from_start_mm");
    let of_first: Vec<f64> = (rows.lines().skip(1))
        .filter(|line| line.contains("protrusive,") && line.contains(",34,"))
        .map(|line| line.split(',').nth(column.unwrap()).unwrap().parse().unwrap())
        .collect();
    assert_eq!(of_first[0], 0.0);
    assert_near(*of_first.last().unwrap(), moved, 1e-12);
}

#[test]
fn bennett_movement_is_printed_for_lateral_excursions_alone_and_a_turn_says_which_way() {
    let folder = Folder::new();
    let with = |excursions| {
        let scene = folder.scene(&Parts { excursions, ..Parts::default() });
        run(&["excursion", &scene]).out
    };
    assert!(with("RightLateral(advance_mm: 5.0)").contains("Bennett movement"));
    let between = with("RightLateroprotrusive(ratio: 0.5, advance_mm: 5.0)");
    assert!(between.contains("right lateroprotrusive") && !between.contains("Bennett movement"), "{between}");
    // Over a level table the condyles drop and the front stays.
    let level = with("Protrusive(advance_mm: 6.0)");
    assert!(level.contains("°, front up") && !level.contains("opened"), "{level}");
}

#[test]
fn three_excursions_fit_in_eighty_columns_and_no_line_trails_off() {
    let folder = Folder::new();
    let excursions =
        "Protrusive(advance_mm: 6.0), RightLateral(advance_mm: 5.0), LeftLateral(advance_mm: 5.0)";
    let scene = folder.scene(&Parts { excursions, ..Parts::default() });
    for columns in ["80", "100", "120"] {
        let table = left(eminentia().args(["excursion", &scene]).env("COLUMNS", columns)).out;
        let widest = table.lines().map(|line| line.chars().count()).max().unwrap();
        assert!(widest <= columns.parse().unwrap(), "{widest} in {columns}:\n{table}");
        assert!(table.contains("protrusive") && table.lines().all(|line| line == line.trim_end()), "{table}");
        let heads = table.lines().find(|line| line.contains("protrusive")).unwrap();
        assert!(heads.contains("right lateral") && heads.contains("left lateral"), "{table}");
    }
}

#[test]
fn nothing_is_minus_zero() {
    let folder = Folder::new();
    let scene = folder.scene(&Parts::default());
    for format in ["table", "csv", "json"] {
        let text = run(&["excursion", &scene, "--format", format]).out;
        let zeros = ["-0.00 ", "−0.00 ", ",-0.0,", ":-0.0,", ":-0.0}", "[-0.0,", ",-0.0]"];
        assert!(zeros.iter().all(|zero| !text.contains(zero)), "{text}");
    }
}

#[test]
fn colours_are_for_terminals_or_when_asked_for() {
    let folder = Folder::new();
    let scene = folder.scene(&Parts { cusps: STEEP, ..Parts::default() });
    let printed =
        |name: &str, value: &str| left(eminentia().args(["excursion", &scene]).env(name, value)).out;
    assert!(!printed("NO_COLOR", "1").contains(ESCAPE));
    assert!(!printed("TERM", "xterm-256color").contains(ESCAPE));
    assert!(printed("CLICOLOR_FORCE", "1").contains(ESCAPE));
    let both = left(eminentia().args(["excursion", &scene]).env("TERM", "xterm").env("NO_COLOR", "1")).out;
    assert!(!both.contains(ESCAPE));
}

#[test]
fn a_title_or_a_name_cannot_steer_the_terminal() {
    let folder = Folder::new();
    let cusps = TWO_CUSPS.replace("mesiobuccal", "\\u{1b}[35mcusp");
    let parts = Parts { title: "\\u{1b}[35mtitle", cusps: cusps.leak(), ..Parts::default() };
    let scene = folder.scene(&parts);
    // Where colours are asked for, nothing is stripped on the way out.
    for command in ["excursion", "baseline"] {
        let left = left(eminentia().args([command, &scene]).env("CLICOLOR_FORCE", "1"));
        assert_eq!(left.status, 0, "{}", left.err);
        assert!(left.out.contains("[35mtitle") && !left.out.contains("\u{1b}[35m"), "{}", left.out);
    }
    let compared = ["compare", &scene, "--with", "design=NonArcon"];
    let left = left(eminentia().args(compared).env("CLICOLOR_FORCE", "1"));
    assert!(left.out.contains("[35mcusp") && !left.out.contains("\u{1b}[35m"), "{}", left.out);
    // Programs get it as it is.
    assert_eq!(json(&["excursion", &scene, "--format", "json"])["title"], "\u{1b}[35mtitle");
}

#[test]
fn the_caution_stands_once_under_the_table_in_the_help_and_in_what_programs_read() {
    let folder = Folder::new();
    let scene = folder.scene(&Parts::default());
    let printed = |args: &[&str]| run(args).out.replace('\n', " ").matches(CAUTION).count();
    assert_eq!(printed(&["excursion", &scene]), 1);
    assert_eq!(printed(&["--help"]), 1);
    for format in ["csv", "json"] {
        let left = run(&["excursion", &scene, "--format", format]);
        assert_eq!(left.out.matches(CAUTION).count(), 1, "{}", left.out);
        assert!(left.err.is_empty(), "{}", left.err);
    }
}

#[test]
fn without_arguments_the_compiled_in_scene_is_made_and_named() {
    let left = run(&[]);
    assert_eq!(left.status, 0);
    let title = sim_core::scene::Scene::thirty_degree().title;
    assert!(left.err.lines().next().unwrap().contains(&title), "{}", left.err);
    assert!(left.err.contains("eminentia scene"), "{}", left.err);
    assert!(left.out.starts_with(&title), "{}", left.out);
    assert!(left.out.contains("protrusive"), "{}", left.out);
}
