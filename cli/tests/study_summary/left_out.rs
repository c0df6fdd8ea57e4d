//! What a summary leaves out, and what is odd in what it does not, told in every form.

use std::fs;

use sim_core::guide::{ArcPath, GuidePath};
use sim_core::scene::Scene;
use sim_core::units::Length;

use crate::helpers::{Folder, csv, json, run};
use crate::tables::{CLEARANCE, of, summary, table, written};

/// One row in six is out of the range of H, which ends at 85°.
const STEEP: &str = "(setting: \"horizontal_inclination_deg\", values: Normal(mean: 80.0, sd: 5.0)), \
    (setting: \"occlusal_plane_inclination_deg\", values: Uniform(min: 5.0, max: 15.0))";
const GROUPS: &str = "plan: Indices(groups: 64, seed: 1, points: Sobol)";
const CHOSEN: [&str; 2] = ["--measure", "protrusive.3mm.36.mesiobuccal.clearance_mm"];

/// With a line's breaks taken out.
fn in_one_line(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn groups_left_out_of_the_indices_are_told_in_table_report_figure_and_json() {
    let folder = Folder::new();
    let study = written(&folder, "s.ron", STEEP, GROUPS, CLEARANCE);
    let table = table(&folder, &study, "t.parquet");
    let told = summary(&table, &CHOSEN);
    let measure = of(&told, "measures", CHOSEN[1]);
    let left_out = measure["sensitivity"]["groups_left_out"].as_u64().unwrap();
    let whole = measure["sensitivity"]["groups"].as_u64().unwrap();
    assert!(left_out > 5 && left_out + whole == 64, "{measure}");
    let sentence = format!("{left_out} of 64 groups of rows");
    let warnings = told["warnings"].as_array().unwrap();
    assert!(warnings.iter().any(|warning| warning.as_str().unwrap().contains(&sentence)), "{warnings:?}");
    assert!(
        warnings.iter().any(|warning| warning.as_str().unwrap().contains("leaves its range of −30 to 85"))
    );

    let (page, plots) = (folder.shell("r.html"), folder.shell("plots"));
    let args = [&["study", "summary", &table, "--report", &page, "--plots", &plots][..], &CHOSEN].concat();
    let left = run(&args);
    assert_eq!(left.status, 0, "{}", left.err);
    assert!(in_one_line(&left.out).contains(&sentence), "{}", left.out);
    let page = fs::read_to_string(page).unwrap();
    assert!(page.contains(&sentence));
    let rows = 64 * 4;
    let missing = rows - measure["rows"].as_u64().unwrap();
    let caption = format!("{missing} of {rows} rows");
    let captions: Vec<&str> = page.split("<figcaption>").skip(1).collect();
    assert!(captions.len() > 3 && captions.iter().all(|after| after.contains(&caption)), "{captions:?}");
    let figure = fs::read_to_string(folder.path(&format!("plots/{}.indices.svg", CHOSEN[1]))).unwrap();
    assert!(in_one_line(&figure).contains(&format!("{whole} of 64 groups")), "{figure}");

    // The factor as it was drawn, and as it is in the rows that the measures describe.
    let factor = of(&told, "factors", "horizontal_inclination_deg");
    assert!(factor["greatest"].as_f64().unwrap() > 85.0);
    assert!(factor["in_whole_rows"]["greatest"].as_f64().unwrap() <= 85.0);
    assert!(left.out.contains("in the rows that are whole"));
    let lines = csv(&["study", "summary", &table, "--format", "csv"]);
    assert!(lines.contains(",mean_in_whole_rows,"), "{lines}");
}

#[test]
fn a_plan_foretells_what_leaves_its_range() {
    let folder = Folder::new();
    let study = written(&folder, "s.ron", STEEP, GROUPS, CLEARANCE);
    let told = json(&["study", "plan", &study, "--threads", "1", "--format", "json"]);
    let out = &told["out_of_range"];
    assert!((out["settings"][0]["part_of_rows"].as_f64().unwrap() - 0.158_655_253_931_457).abs() < 1e-12);
    assert!((out["part_of_groups"].as_f64().unwrap() - 0.292_139).abs() < 1e-6);
    assert!(told["rows_tried_not_whole"].as_u64().unwrap() > 0);
    assert_eq!(told["warnings"].as_array().unwrap().len(), 2);
    let table = run(&["study", "plan", &study, "--threads", "1"]);
    for words in ["out of range", "16 % of the rows", "29 % of the groups", "not whole"] {
        assert!(table.out.contains(words), "{words}: {}", table.out);
    }
}

#[test]
fn condyles_past_the_lowest_point_of_their_arc_are_counted() {
    let folder = Folder::new();
    let mut scene = Scene::thirty_degree();
    scene.instrument.right_guide.path = GuidePath::Arc(ArcPath { radius: Length::from_mm(20.0) });
    folder.file("arc.ron", scene.to_ron());
    let study = folder.file(
        "s.ron",
        // Lowest at 20·sin 5° = 1.7 mm and at 20·sin 30° = 10 mm.
        "(title: \"Arcs (invented)\", scene: \"arc.ron\", factors: [(setting: \"horizontal_inclination_deg\", \
         values: List([5.0, 30.0]))], plan: FullGrid, record: (measures: [Clearance], advances_mm: [3.0]))",
    );
    let table = table(&folder, &study, "t.csv");
    let told = json(&["study", "summary", &table, "--study", &study, "--format", "json"]);
    assert_eq!(told["noted"][0]["note"], "right_condyle_past_lowest_point_of_arc");
    assert_eq!(told["noted"][0]["rows"], 1);
    let left = run(&["study", "summary", &table, "--study", &study]);
    let sentence = "In 1 of 2 rows (50 %) the right condyle has passed the lowest point of its arc";
    assert!(in_one_line(&left.out).contains(sentence), "{}", left.out);
    let planned = run(&["study", "plan", &study]);
    assert!(planned.out.contains("50 % of the rows tried"), "{}", planned.out);
}
