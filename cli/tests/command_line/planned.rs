//! `plan`: the answer by number, put back into the program, and what is refused.

use serde_json::Value;

use crate::helpers::{Folder, assert_near, case_text, csv, json, number, refused, run};

fn scene(name: &str) -> String {
    format!("{}/../scenes/{name}", env!("CARGO_MANIFEST_DIR"))
}

fn list<'v>(value: &'v Value, name: &str) -> &'v Vec<Value> {
    value[name].as_array().unwrap_or_else(|| panic!("{name} in {value}"))
}

#[test]
fn every_tooth_of_both_arches_has_its_inclines() {
    let found = json(&["plan", &scene("thirty_degree.ron"), "--chord-mm", "2", "--format", "json"]);
    let needed = &found["required_inclines"];
    assert_eq!(list(needed, "teeth").len(), 28);
    assert_eq!(list(needed, "cusps").len(), 8);
    assert!(found["goal"].is_null());
    // Equal guides at front and back need that incline everywhere: 30° to the reference plane, less
    // the 10° of the occlusal plane.
    let thirty = scene("thirty_degree.ron");
    let equal = ["--with", "anterior_guide.sagittal_inclination_deg=30"];
    let args = [&["plan", &thirty, "--format", "json"], &equal[..]].concat();
    for tooth in list(&json(&args)["required_inclines"], "teeth") {
        for what in ["tangent", "chord"] {
            assert_near(number(&tooth["protrusive"][what], "to_occlusal_plane_deg"), 20.0, 1e-9);
        }
        assert_near(number(tooth, "proportion_is_off_deg"), 0.0, 1e-9);
    }
    let rows = csv(&["plan", &scene("thirty_degree.ron"), "--format", "csv"]);
    assert_eq!(rows.lines().count(), 1 + (28 + 8) * 3);
    let heads: Vec<&str> = rows.lines().next().unwrap().split(',').collect();
    assert!(rows.lines().all(|line| line.split(',').count() == heads.len()), "{rows}");
    let table = run(&["plan", &scene("thirty_degree.ron")]);
    assert_eq!(table.status, 0, "{}", table.err);
    for words in ["36, 46", "rule", "36 mesiobuccal", "pin +2.00 mm", "non-arcon", "verified on the patient"]
    {
        assert!(table.out.contains(words), "{words:?} not in: {}", table.out);
    }
}

#[test]
fn a_planned_disclusion_shows_in_the_excursions_of_the_scene_written() {
    let folder = Folder::new();
    let out = folder.shell("planned.ron");
    let args = ["plan", &scene("planned_disclusion.ron"), "--format", "json", "--scene-out", &out];
    let found = json(&args);
    let goal = &found["goal"];
    assert_eq!((goal["name"].as_str(), goal["reached"].as_bool()), (Some("disclusion"), Some(true)));
    let made = json(&["excursion", &out, "--format", "json"]);
    for own in list(goal, "clearances") {
        let tooth = own["tooth"].as_u64().unwrap();
        let left = tooth == 36;
        let excursion = match own["excursion"].as_str().unwrap() {
            "protrusive" => "protrusive",
            "working" if left => "left_lateral",
            "orbiting" if !left => "left_lateral",
            _ => "right_lateral",
        };
        let made = list(&made, "excursions").iter().find(|made| made["name"] == excursion).unwrap();
        let end = list(made, "samples").last().unwrap();
        let cusp = list(end, "cusps").iter().find(|cusp| cusp["tooth"] == own["tooth"]).unwrap();
        assert_near(number(cusp, "clearance_mm"), number(own, "reached_mm"), 1e-9);
        assert!(number(cusp, "clearance_mm") >= number(own, "wanted_mm") - 1e-9, "{own}");
    }
    // The plate comes out at 53° over a condylar path of 36°, and that is told wherever the plan goes.
    let steep = &found["steep_guidance"];
    assert_near(number(steep, "condylar_path_deg"), 36.0, 1e-9);
    let incisal = number(steep, "incisal_guidance_deg");
    assert_near(number(steep, "steeper_by_deg"), incisal - 36.0, 1e-9);
    assert!(steep["source"] == "common practice, no source" && incisal > 50.0, "{steep}");
    let head = std::fs::read_to_string(&out).unwrap();
    let head: String = head.lines().take_while(|line| line.starts_with("//")).collect();
    let table = run(&["plan", &scene("planned_disclusion.ron")]).out;
    for said in [head, table] {
        assert!(said.contains("CAUTION: the incisal guidance as planned"), "{said}");
    }
    let shallow = ["--clear", "36,protrusive,3,0", "--format", "json"];
    let shallow = json(&[&["plan", &scene("planned_disclusion.ron")], &shallow[..]].concat());
    assert!(shallow["steep_guidance"].is_null(), "{}", shallow["steep_guidance"]);
    // Planned again, nothing changes.
    for change in list(&json(&["plan", &out, "--format", "json"])["goal"], "changes") {
        assert_near(number(change, "to_deg"), number(change, "from_deg"), 1e-6);
    }
}

#[test]
fn a_denture_is_brought_as_near_to_balance_as_can_be_and_the_rest_is_told() {
    let folder = Folder::new();
    let out = folder.shell("planned.ron");
    let left = run(&["plan", &scene("balanced_denture.ron"), "--format", "json", "--scene-out", &out]);
    let found: Value = serde_json::from_str(&left.out).unwrap();
    let goal = &found["goal"];
    assert_eq!(left.status, i32::from(goal["reached"] == false), "{}", left.err);
    assert_eq!(list(goal, "alone").len(), 5);
    assert_eq!(list(goal, "gaps").len(), 16 * 3 + 12);
    // What is told as the greatest speaks of the teeth asked for; the greatest of all is told beside it.
    let asked = list(&goal["asked_for"], "teeth");
    let most = |of_asked: bool| {
        let gaps = list(goal, "gaps").iter().filter(|gap| !of_asked || asked.contains(&gap["tooth"]));
        gaps.map(|gap| number(gap, "gap_mm").abs()).fold(0.0, f64::max)
    };
    assert_near(number(goal, "greatest_gap_mm").abs(), most(true), 1e-9);
    assert_near(number(&goal["greatest_gap_of_all"], "gap_mm").abs(), most(false), 1e-9);
    assert!(most(false) > 2.0 * most(true), "the canines stand off farther than what was asked for");
    let mould = list(goal, "changes").iter().find(|change| change["factor"] == "cusp_inclination").unwrap();
    assert!([0.0, 10.0, 20.0, 30.0].contains(&number(mould, "to_deg")), "{mould}");
    let again = run(&["plan", &out, "--format", "json"]);
    let again: Value = serde_json::from_str(&again.out).unwrap();
    assert_near(number(&again["goal"], "greatest_gap_mm"), number(goal, "greatest_gap_mm"), 1e-6);
    // One tooth in one excursion can be balanced by the cusps alone.
    let alone = ["--balance", "20", "--free", "cusp-inclination=0..60"];
    let denture = scene("balanced_denture.ron");
    let args = [&["plan", &denture], &alone[..]].concat();
    let table = run(&args);
    assert_eq!(table.status, 1);
    for words in [
        "NOT BALANCED",
        "34 to 37 and 44 to 47",
        "Of all teeth shown",
        "J Prosthet Dent 1960;10:637",
        "cusp inclination from 20.00°",
        "One factor alone",
        "Rule of proportion",
        "Gaps as planned",
    ] {
        assert!(table.out.contains(words), "{words:?} not in: {}", table.out);
    }
    assert!(table.err.contains("cannot be reached"), "{}", table.err);
}

#[test]
fn a_goal_out_of_reach_names_the_cusp_in_the_way_and_writes_the_nearest() {
    let folder = Folder::new();
    let out = folder.shell("planned.ron");
    let wanted = ["--clear", "36,protrusive,3,6", "--free", "incisal-guidance=0..60", "--scene-out", &out];
    let left = run(&[&["plan", &scene("thirty_degree.ron")], &wanted[..]].concat());
    assert_eq!(left.status, 1, "{}", left.err);
    assert!(left.out.contains("NOT REACHED") && left.out.contains("36 mesiobuccal"), "{}", left.out);
    assert!(left.err.contains("nearest"), "{}", left.err);
    let nearest = std::fs::read_to_string(&out).unwrap();
    assert!(nearest.contains("sagittal_inclination_deg: 60.0"), "{nearest}");
    let found = run(&[&["plan", &scene("thirty_degree.ron"), "--format", "json"], &wanted[..4]].concat());
    let found: Value = serde_json::from_str(&found.out).unwrap();
    let way = &found["goal"]["in_the_way"];
    assert!(number(way, "greatest_reachable_mm") < number(way, "wanted_mm"));
    // Changed settings are planned from.
    let with = ["--clear", "36,working,3,0.2", "--with", "horizontal_inclination_deg=35", "--least-squares"];
    let found = json(&[&["plan", &scene("thirty_degree.ron"), "--format", "json"], &with[..]].concat());
    assert_eq!(found["goal"]["reached"], true);
}

#[test]
fn the_inclines_are_drawn_from_front_to_back() {
    let folder = Folder::new();
    for (file, start) in [("inclines.svg", &b"<svg"[..]), ("inclines.png", &b"\x89PNG"[..])] {
        let path = folder.shell(file);
        assert_eq!(run(&["plan", &scene("thirty_degree.ron"), "--plot", &path]).status, 0);
        assert!(std::fs::read(&path).unwrap().starts_with(start));
    }
    let svg = std::fs::read_to_string(folder.path("inclines.svg")).unwrap();
    for words in
        ["protrusive", "orbiting", "lower teeth: tangent", "rule of proportion", "behind the incisal point"]
    {
        assert!(svg.contains(words), "{words}");
    }
    // Sides that differ have lines of their own.
    let path = folder.shell("unequal.svg");
    run(&["plan", &scene("unequal_sides.ron"), "--plot", &path]);
    assert!(std::fs::read_to_string(&path).unwrap().contains("lower teeth, right: tangent"));
}

#[test]
fn a_plan_of_a_case_stands_on_its_sheet() {
    let folder = Folder::new();
    let text = case_text("dentate.ron");
    let end = text.rfind(')').unwrap();
    let sheet_of = |clearance_mm: &str| {
        let plan = format!(
            "plan: (goal: Disclusion(clearances: [(tooth: 36, excursion: Protrusive, clearance_mm: {clearance_mm})])),\n"
        );
        let case = folder.file("case.ron", format!("{}{plan}{}", &text[..end], &text[end..]));
        let sheet = folder.shell("sheet.html");
        let left = run(&["sheet", &case, "--out", &sheet]);
        assert_eq!(left.status, 0, "{}", left.err);
        assert_eq!(run(&["sheet", &case, "--out", &folder.shell("sheet.pdf")]).status, 0);
        std::fs::read_to_string(&sheet).unwrap()
    };
    let sheet = sheet_of("0.9");
    for words in
        ["<h2>Plan</h2>", "Clearance wanted: 36 protrusive 0.90 mm after 3.00 mm.", "incisal guidance from"]
    {
        assert!(sheet.contains(words), "{words}: {sheet}");
    }
    // What is there already needs no change.
    let sheet = sheet_of("0.1");
    assert!(sheet.contains("Nothing changes.") && !sheet.contains("incisal guidance from"), "{sheet}");
}

#[test]
fn what_cannot_be_planned_is_refused() {
    let thirty = scene("thirty_degree.ron");
    let with = |args: &[&str]| run(&[&["plan", &thirty], args].concat());
    refused(&run(&["plan", "no/such.ron"]), &["no/such.ron", "no such file"]);
    refused(&with(&["--free", "incisal-guidance=0..40"]), &["there is no goal to reach"]);
    refused(
        &with(&["--balance", "20", "--free", "curve=3"]),
        &["`curve` is no factor", "compensating-curve"],
    );
    refused(&with(&["--balance", "20", "--free", "incisal-guidance=40"]), &["two bounds"]);
    refused(&with(&["--balance", "20", "--free", "incisal-guidance=40..0"]), &["above its most_deg"]);
    refused(&with(&["--balance", "20", "--free", "incisal-guidance=0..400"]), &["most_deg is 400", "85"]);
    refused(&with(&["--balance", "20", "--free", "cusp-mould=0,90"]), &["it has 90"]);
    refused(&with(&["--balance", "NaN"]), &["cusp_inclination_deg is NaN"]);
    refused(&with(&["--clear", "36,protrusive,3"]), &["four things"]);
    refused(&with(&["--clear", "19,protrusive,3,1"]), &["tooth is 19"]);
    refused(&with(&["--clear", "36,sideways,3,1"]), &["`sideways`", "orbiting"]);
    refused(&with(&["--clear", "36,working,0,1"]), &["advance_mm is 0"]);
    refused(&with(&["--clear", "38,working,3,1"]), &["tooth 38", "it watches"]);
    refused(&with(&["--clear", "36,working,3,1", "--free", "occlusal-plane=0..10"]), &["plays no part"]);
    refused(&with(&["--chord-mm", "-1"]), &["chord_mm is -1"]);
    refused(&with(&["--plot", "inclines.bmp"]), &["use .svg, .png or .pdf"]);
    refused(&with(&["--scene-out", &thirty]), &["choose another"]);
}
