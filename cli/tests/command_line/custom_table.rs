//! `custom-table`: the incisal table that the teeth form.

use std::sync::Arc;

use serde_json::Value;
use sim_core::anterior::PinTip;
use sim_core::cast::facing;
use sim_core::cusp::Arch;
use sim_core::occlusion::{Mounted, TableSweep};
use sim_core::units::Length;

use crate::casts::{csv_rows, guided, of_file};
use crate::helpers::{Folder, assert_near, eminentia, json, left, number, refused, run, three};

/// Small enough to be formed quickly.
const SMALL: [&str; 6] = ["--to", "2", "--step", "1", "--margin", "1"];

fn asked<'a>(scene: &'a str, more: &[&'a str]) -> Vec<&'a str> {
    [&["custom-table", scene], &SMALL[..], more].concat()
}

#[test]
fn the_heights_are_those_that_the_maths_forms_in_json_and_csv() {
    let folder = Folder::new();
    let path = folder.scene(&guided());
    let told = json(&asked(&path, &["--format", "json"]));
    let (scene, casts) = of_file(&path);
    let mounted = Mounted::new(scene.instrument.clone(), Arc::clone(&casts), scene.occlusal_plane);
    let sweep = TableSweep {
        to: Length::from_mm(2.0),
        step: Length::from_mm(1.0),
        margin: Length::from_mm(1.0),
        tip: PinTip::POINT,
    };
    let formed = mounted.form_table(&sweep).unwrap();
    assert_near(number(&told, "guided_to_mm"), formed.guided_to().mm(), 0.0);
    assert_near(number(&told, "swept_share"), formed.swept_share(), 0.0);
    let csv = run(&asked(&path, &["--format", "csv"])).out;
    let rows = csv_rows(&csv);
    assert_eq!(rows[0], ["row", "column", "x_mm", "y_mm", "z_mm", "printed_z_mm", "swept"]);
    let (down, across) = formed.field().size();
    assert_eq!(rows.len(), 1 + down * across);
    for cells in &rows[1..] {
        let (row, column): (usize, usize) = (cells[0].parse().unwrap(), cells[1].parse().unwrap());
        let point = formed.field().point(row, column).unwrap();
        for (cell, at) in cells[2..5].iter().zip(point) {
            assert_near(cell.parse().unwrap(), at, 0.0);
        }
        // Of a tip that is a point the printed surface is the table.
        assert_eq!(cells[5], cells[4]);
        assert_eq!(cells[6], formed.is_swept(row, column).to_string());
        assert_eq!(told["heights_mm"][row][column].as_f64().unwrap(), point[2] + 0.0);
        assert_eq!(told["swept"][row][column], formed.is_swept(row, column));
    }
}

#[test]
fn the_scene_with_the_table_repeats_the_teeth_as_closely_as_is_told() {
    let folder = Folder::new();
    let path = folder.scene(&guided());
    std::fs::create_dir(folder.path("sub")).unwrap();
    let named = folder.shell("sub/with_table.ron");
    let told = json(&asked(&path, &["--format", "json", "--scene-out", &named]));
    // The pin out of the way, the teeth alone.
    let raised = ["--format", "json", "--with", "pin_extension_mm=-30"];
    let by_teeth = json(&[&["excursion", &path], &raised[..]].concat());
    let by_table = json(&["excursion", &named, "--format", "json"]);
    for (index, repeat) in told["repeats"].as_array().unwrap().iter().enumerate() {
        let samples = |run: &Value| run["excursions"][index]["samples"].as_array().unwrap().clone();
        assert_eq!(repeat["excursion"], by_table["excursions"][index]["name"]);
        let to = number(repeat, "to_mm");
        let most = number(repeat, "greatest_departure_mm");
        let mut seen: f64 = 0.0;
        for (one, other) in samples(&by_teeth).iter().zip(&samples(&by_table)) {
            assert_eq!(other["guided_by"], "custom_table");
            if number(one, "advance_mm") > to + 1e-9 {
                continue;
            }
            let (one, other) = (three(&one["incisal_point_mm"]), three(&other["incisal_point_mm"]));
            let apart = (0..3).map(|axis| (one[axis] - other[axis]).powi(2)).sum::<f64>().sqrt();
            seen = seen.max(apart);
        }
        // Told from other samples than the scene's, but dense ones.
        assert!(seen <= 1.1 * most + 1e-6, "{seen} mm, {most} mm told");
        assert!(most < 0.5, "{most} mm");
    }
}

#[test]
fn the_printed_table_is_a_closed_solid_of_the_told_thickness() {
    let folder = Folder::new();
    let path = folder.scene(&guided());
    for ending in ["stl", "ply", "obj"] {
        let file = folder.shell(&format!("table.{ending}"));
        let told = json(&asked(&path, &["--format", "json", "--print", &file, "--thickness", "4"]));
        let unit = Some(sim_core::cast::CastUnit::Millimetre);
        let read = files::cast::read(file.as_ref(), Arch::Lower, unit).unwrap();
        assert_eq!((read.report.shells, read.report.closed_shells, read.report.borders), (1, 1, 0));
        assert_near(facing(&read.surface, &nalgebra::Vector3::z()), 0.0, 1e-6);
        let (least, greatest) = read.surface.bounds();
        let heights = told["heights_mm"].as_array().unwrap();
        let heights =
            || heights.iter().flat_map(|row| row.as_array().unwrap()).map(|one| one.as_f64().unwrap());
        // STL holds 32 bits.
        assert_near(greatest.z, heights().fold(f64::MIN, f64::max), 1e-5);
        assert_near(least.z, heights().fold(f64::MAX, f64::min) - 4.0, 1e-5);
    }
}

#[test]
fn a_table_for_a_ball_lies_below_the_centres_and_the_scene_with_it_repeats_the_teeth() {
    let folder = Folder::new();
    let path = folder.scene(&guided());
    let (file, scene) = (folder.shell("table.stl"), folder.shell("with_ball.ron"));
    let more = ["--format", "json", "--print", &file, "--tip-radius", "1.5", "--scene-out", &scene];
    let told = json(&asked(&path, &more));
    assert_near(number(&told, "tip_radius_mm"), 1.5, 0.0);
    let rows = |name: &str| -> Vec<f64> {
        let rows = told[name].as_array().unwrap().iter().flat_map(|row| row.as_array().unwrap());
        rows.map(|height| height.as_f64().unwrap()).collect()
    };
    // The ball's lowest point is as low as its centre less its radius, so that no place is printed higher.
    let (centres, printed) = (rows("heights_mm"), rows("printed_heights_mm"));
    assert!(centres.iter().zip(&printed).all(|(centre, printed)| *printed <= centre + 1e-9));
    assert!(centres.iter().zip(&printed).any(|(centre, printed)| *printed < centre - 0.01));
    let most = |repeat: &Value| number(repeat, "greatest_departure_mm");
    let of_movements = told["repeats"].as_array().unwrap().iter().map(most).fold(0.0, f64::max);
    assert_near(number(&told, "error_mm"), of_movements, 0.0);
    // One caution: the tip has been stated.
    assert_eq!(told["cautions"].as_array().unwrap().len(), 1, "{}", told["cautions"]);
    assert!(std::fs::read_to_string(&scene).unwrap().contains("tip_radius_mm: 1.5"));
    let by_table = json(&["excursion", &scene, "--format", "json"]);
    assert_eq!(by_table["excursions"][0]["samples"][1]["guided_by"], "custom_table");
    refused(&run(&asked(&path, &["--tip-radius", "-1"])), &["tip_radius_mm is -1", "0 to 5"]);
}

#[test]
fn a_printed_table_for_a_point_asks_for_the_tip_and_one_not_printed_does_not() {
    let folder = Folder::new();
    let path = folder.scene(&guided());
    let file = folder.shell("table.stl");
    let said = |more: &[&str]| run(&asked(&path, more)).out.split_whitespace().collect::<Vec<_>>().join(" ");
    let printed = said(&["--print", &file]);
    for words in [
        "A real pin has a tip: state its radius",
        "Before the table is used",
        "is taken as a point",
        "to within",
    ] {
        assert!(printed.contains(words), "{words}: {printed}");
    }
    assert!(!said(&[]).contains("CAUTION"));
    assert!(!said(&["--print", &file, "--tip-radius", "2"]).contains("state its radius"));
}

#[test]
fn the_table_for_people_says_size_and_departure_and_fits() {
    let folder = Folder::new();
    let path = folder.scene(&guided());
    for columns in ["80", "100"] {
        let table = left(eminentia().args(asked(&path, &[])).env("COLUMNS", columns)).out;
        let widest = table.lines().map(|line| line.chars().count()).max().unwrap();
        assert!(widest <= columns.parse().unwrap(), "{widest} in {columns}:\n{table}");
        for words in ["Custom incisal table", "swept", "distance", "protrusive", "right lateral"] {
            assert!(table.replace('\n', " ").contains(words), "{words}:\n{table}");
        }
    }
}

#[test]
fn a_table_that_cannot_be_is_refused_or_fails() {
    let folder = Folder::new();
    let path = folder.scene(&guided());
    for (option, value) in
        [("--to", "0"), ("--to", "nan"), ("--step", "0"), ("--step", "9"), ("--margin", "-1")]
    {
        refused(&run(&["custom-table", &path, option, value]), &["allowed are"]);
    }
    let print = folder.shell("table.stl");
    refused(&run(&asked(&path, &["--print", &print, "--thickness", "-1"])), &["thickness is -1"]);
    refused(
        &run(&asked(&path, &["--print", &folder.shell("table.txt")])),
        &["--print", ".stl, .ply or .obj"],
    );
    refused(&run(&asked(&path, &["--print", &print, "--scene-out", &print])), &["are the same file"]);
    refused(&run(&asked(&path, &["--scene-out", &path])), &["is the scene that is read"]);
    refused(&run(&asked(&path, &["--thickness", "4"])), &["--print"]);
    assert_eq!(folder.names(), ["scene.ron"]);
}
