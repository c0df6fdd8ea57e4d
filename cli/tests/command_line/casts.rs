//! Casts on the instrument: invented, written, read back, and guiding.

use std::path::Path;
use std::sync::Arc;

use serde_json::Value;
use sim_core::cast::{Casts, LastPairs};
use sim_core::cusp::{Arch, Tooth};
use sim_core::excursion::{Guidance, Mechanism, Placement};
use sim_core::scene::Scene;
use sim_core::setting::Change;

use crate::helpers::{
    BY_TEETH, COARSE_CASTS, Folder, LEVEL_TABLE, Parts, assert_near, eminentia, json, left, number, run,
    three,
};

const EXCURSIONS: &str = "Protrusive(advance_mm: 3.0), RightLateral(advance_mm: 3.0)";

/// A scene that teeth guide.
pub(crate) fn guided() -> Parts {
    Parts {
        anterior_guide: BY_TEETH,
        cusps: "",
        excursions: EXCURSIONS,
        casts: COARSE_CASTS,
        samples: "4",
        ..Parts::default()
    }
}

/// The scene as the maths has it, with its casts.
pub(crate) fn of_file(path: &str) -> (Scene, Arc<Casts>) {
    changed_of_file(path, &[])
}

/// The same with changes made before the casts are.
pub(crate) fn changed_of_file(path: &str, changes: &[&str]) -> (Scene, Arc<Casts>) {
    let mut scene = Scene::from_ron(&std::fs::read_to_string(path).unwrap()).unwrap();
    for change in changes {
        change.parse::<Change>().unwrap().make(&mut scene).unwrap();
    }
    let folder = Path::new(path).parent().unwrap();
    let casts = files::of_scene(&mut scene, folder).unwrap().unwrap().casts;
    (scene, casts)
}

fn samples(run: &Value) -> Vec<&Value> {
    let excursions = run["excursions"].as_array().unwrap();
    excursions.iter().flat_map(|excursion| excursion["samples"].as_array().unwrap()).collect()
}

fn solved(scene: &Scene, casts: &Arc<Casts>) -> Vec<Placement> {
    let mechanism = Mechanism::new(&scene.instrument).with_casts(Arc::clone(casts));
    let samples = |excursion| mechanism.samples(excursion, scene.samples).map(Result::unwrap);
    scene.excursions.iter().flat_map(samples).collect()
}

#[test]
fn the_teeth_that_guide_are_told_with_their_place_and_the_pin_that_stands_off() {
    let folder = Folder::new();
    let path = folder.scene(&guided());
    let told = json(&["excursion", &path, "--format", "json"]);
    let (scene, casts) = of_file(&path);
    let placements = solved(&scene, &casts);
    let told = samples(&told);
    assert_eq!(told.len(), placements.len());
    let mut by_teeth = 0;
    for (sample, placement) in told.into_iter().zip(&placements) {
        assert_eq!(sample["guided_by"], placement.guidance.name());
        assert_near(number(sample, "pin_lift_mm"), placement.pin_lift.unwrap().mm(), 0.0);
        if let Guidance::Teeth(stop) = placement.guidance {
            by_teeth += 1;
            let contact = &sample["tooth_contact"];
            for (name, tooth) in [("upper_tooth", stop.upper_tooth), ("lower_tooth", stop.lower_tooth)] {
                assert_eq!(contact[name].as_u64(), tooth.map(Tooth::number).map(u64::from));
            }
            assert_eq!(three(&contact["at_mm"]), <[f64; 3]>::from(*stop.at.coords()));
        } else {
            assert!(sample["tooth_contact"].is_null());
        }
        let reading = casts.measure(&placement.jaw, scene.occlusal_plane, &mut LastPairs::default());
        let read = &sample["casts"];
        assert_near(number(read, "least_vertical_gap_mm"), reading.vertical.unwrap().gap.mm(), 1e-9);
        assert_near(number(read, "least_distance_mm"), reading.distance.gap.mm(), 1e-9);
    }
    assert!(by_teeth > 4, "{by_teeth}");
}

#[test]
fn csv_has_the_columns_of_casts_after_the_old_ones_with_the_numbers_of_the_json() {
    let folder = Folder::new();
    let path = folder.scene(&guided());
    let text = run(&["excursion", &path, "--format", "csv"]).out;
    let mut rows = csv_rows(&text);
    let heads = rows.remove(0);
    assert_eq!(heads[20], "incline");
    let told = json(&["excursion", &path, "--format", "json"]);
    let told = samples(&told);
    assert_eq!(rows.len(), told.len());
    let column = |name: &str| heads.iter().position(|head| head == name).unwrap();
    for (row, sample) in rows.iter().zip(told) {
        let same = |name: &str, value: &Value| {
            let cell = &row[column(name)];
            assert_eq!(cell.parse::<f64>().ok(), value.as_f64(), "{name}: {cell} and {value}");
        };
        let contact = &sample["tooth_contact"];
        for name in ["upper_tooth", "lower_tooth"] {
            same(name, &contact[name]);
        }
        for (axis, name) in ["contact_x_mm", "contact_y_mm", "contact_z_mm"].into_iter().enumerate() {
            same(name, &contact["at_mm"][axis]);
        }
        same("pin_lift_mm", &sample["pin_lift_mm"]);
        for name in ["least_vertical_gap_mm", "least_distance_mm"] {
            same(name, &sample["casts"][name]);
        }
    }
}

/// Rows of a CSV text, heads first.
pub(crate) fn csv_rows(text: &str) -> Vec<Vec<String>> {
    let mut reader =
        csv::ReaderBuilder::new().comment(Some(b'#')).has_headers(false).from_reader(text.as_bytes());
    reader.records().map(|row| row.unwrap().iter().map(str::to_owned).collect()).collect()
}

#[test]
fn without_casts_nothing_is_told_of_them() {
    let folder = Folder::new();
    let scene = folder.scene(&Parts::default());
    let told = json(&["excursion", &scene, "--format", "json"]);
    for sample in samples(&told) {
        for field in ["tooth_contact", "pin_lift_mm", "casts"] {
            assert!(sample[field].is_null(), "{sample}");
        }
    }
    let table = run(&["excursion", &scene]).out;
    assert!(!table.contains("Casts") && !table.contains("What guides"), "{table}");
}

#[test]
fn casts_on_an_instrument_with_a_table_are_measured_and_do_not_guide() {
    let folder = Folder::new();
    let path = folder.scene(&Parts { anterior_guide: LEVEL_TABLE, ..guided() });
    let told = json(&["excursion", &path, "--format", "json"]);
    for sample in samples(&told) {
        assert_eq!(sample["guided_by"], "table");
        assert!(sample["casts"]["least_distance_mm"].is_number());
    }
}

#[test]
fn the_table_says_what_guides_from_where_to_where_and_fits_its_columns() {
    let folder = Folder::new();
    let scene = folder.scene(&Parts {
        excursions: "Protrusive(advance_mm: 3.0), RightLateral(advance_mm: 3.0), LeftLateral(advance_mm: 3.0)",
        ..guided()
    });
    for columns in ["80", "100"] {
        let table = left(eminentia().args(["excursion", &scene]).env("COLUMNS", columns)).out;
        let widest = table.lines().map(|line| line.chars().count()).max().unwrap();
        assert!(widest <= columns.parse().unwrap(), "{widest} in {columns}:\n{table}");
        assert!(table.lines().all(|line| line == line.trim_end()), "{table}");
        for words in ["What guides", "Casts", "teeth ", "mm off"] {
            assert!(table.contains(words), "{words}:\n{table}");
        }
    }
}

/// Writes the pair of a scene and gives the scene that names the files.
pub(crate) fn written(folder: &Folder, scene: &str, ending: &str) -> String {
    let [upper, lower] = ["upper", "lower"].map(|arch| folder.shell(&format!("{arch}.{ending}")));
    let named = folder.shell(&format!("{ending}.ron"));
    let done = run(&["casts", scene, "--upper", &upper, "--lower", &lower, "--scene-out", &named]);
    assert_eq!(done.status, 0, "{}", done.err);
    named
}

#[test]
fn a_pair_that_was_written_guides_as_the_one_that_was_made() {
    let folder = Folder::new();
    let made = folder.scene(&guided());
    let by_made = json(&["excursion", &made, "--format", "json"]);
    // PLY and OBJ hold coordinates in full, STL as 32 bits: 4e-6 mm at 90 mm, and a touch moves by some
    // times that where inclines are steep.
    for (ending, most) in [("ply", 1e-6), ("obj", 1e-6), ("stl", 1e-3)] {
        let named = written(&folder, &made, ending);
        let left = run(&["excursion", &named, "--format", "json"]);
        assert_eq!(left.status, 0, "{}", left.err);
        let by_read: Value = serde_json::from_str(&left.out).unwrap();
        for (made, read) in samples(&by_made).into_iter().zip(samples(&by_read)) {
            assert_near(number(read, "pin_lift_mm"), number(made, "pin_lift_mm"), most);
            for (read, made) in
                three(&read["incisal_point_mm"]).into_iter().zip(three(&made["incisal_point_mm"]))
            {
                assert_near(read, made, most);
            }
            assert_eq!(read["guided_by"], made["guided_by"]);
            // Only OBJ holds labels.
            if ending == "obj" && made["guided_by"] == "teeth" {
                let teeth = |sample: &Value| sample["tooth_contact"]["upper_tooth"].clone();
                assert_eq!(teeth(read), teeth(made), "{read}\n{made}");
            }
        }
        // Every cusp of the pair is watched, and rests where it is.
        let (scene, casts) = of_file(&named);
        assert!(scene.cusps.len() >= 28);
        for cusp in &scene.cusps {
            let place = cusp.at_mm();
            let surface = casts.surface(cusp.tooth().arch());
            let apart =
                surface.vertices().iter().map(|vertex| (vertex - place).norm()).fold(f64::MAX, f64::min);
            assert!(apart <= 1e-5, "{} {}: {apart} mm", cusp.tooth(), cusp.name());
        }
    }
}

#[test]
fn the_pair_is_reported_in_every_format() {
    let folder = Folder::new();
    let scene = folder.scene(&guided());
    let files = ["--upper", &folder.shell("u.ply"), "--lower", &folder.shell("l.stl")];
    let args = |format| [&["casts", &scene], &files[..], &["--format", format]].concat();
    let told = json(&args("json"));
    assert_eq!(told["title"], "Written by a test");
    assert_eq!(told["invented_casts"]["fineness_mm"], 1.5);
    let read = files::cast::read(&folder.path("u.ply"), Arch::Upper, None).unwrap();
    assert_eq!(told["upper"]["triangles"], read.surface.triangles().len());
    let cusps = told["cusps"].as_array().unwrap();
    let csv = run(&args("csv")).out;
    let rows = csv_rows(&csv);
    assert_eq!(rows[0], ["tooth", "name", "x_mm", "y_mm", "z_mm"]);
    assert_eq!(rows.len(), 1 + cusps.len());
    for (row, cusp) in rows[1..].iter().zip(cusps) {
        assert_eq!(row[0], cusp["tooth"].to_string());
        for (cell, at) in row[2..].iter().zip(three(&cusp["at_mm"])) {
            assert_eq!(cell.parse::<f64>().unwrap(), at);
        }
    }
    let table = run(&args("table")).out;
    assert!(table.contains("u.ply") && table.contains("cusp angle") && table.contains("Nobody's"), "{table}");
}

#[test]
fn without_a_scene_the_pair_of_a_kind_is_written_and_a_setting_changes_it() {
    let folder = Folder::new();
    let files = ["--upper", &folder.shell("u.ply"), "--lower", &folder.shell("l.ply")];
    let coarse = ["--format", "json", "--with", "invented_casts.fineness_mm=1"];
    let args = |more: &[&'static str]| -> Value {
        let args: Vec<&str> =
            ["casts"].into_iter().chain(files).chain(coarse).chain(more.iter().copied()).collect();
        json(&args)
    };
    let [dentate, denture] = [args(&[]), args(&["--kind", "complete-denture"])];
    assert_eq!(dentate["invented_casts"]["kind"], "Dentate");
    assert_eq!(denture["invented_casts"]["kind"], "CompleteDenture");
    let steep = args(&["--with", "invented_casts.cusp_angle_deg=35"]);
    assert_eq!(steep["invented_casts"]["cusp_angle_deg"], 35.0);
    assert_ne!(steep["cusps"], dentate["cusps"]);
}

#[test]
fn two_settings_of_casts_are_compared() {
    let folder = Folder::new();
    let scene = folder.scene(&guided());
    let with = ["--with", "horizontal_inclination_deg=10"];
    let told = json(&[&["compare", &scene, "--format", "json"], &with[..]].concat());
    let first = json(&["excursion", &scene, "--format", "json"]);
    let second = json(&[&["excursion", &scene, "--format", "json"], &with[..]].concat());
    for (index, excursion) in told["excursions"].as_array().unwrap().iter().enumerate() {
        let end =
            |run: &Value| run["excursions"][index]["samples"].as_array().unwrap().last().unwrap().clone();
        let lift = &excursion["pin_lift_mm"];
        assert_near(number(lift, "first"), number(&end(&first), "pin_lift_mm"), 1e-9);
        assert_near(number(lift, "second"), number(&end(&second), "pin_lift_mm"), 1e-9);
        let words = excursion["guided_by"]["first"].as_str().unwrap();
        assert!(words.starts_with(end(&first)["guided_by"].as_str().unwrap()), "{words}");
    }
    let table = run(&[&["compare", &scene], &with[..]].concat()).out;
    assert!(table.contains("guided by") && table.contains("pin lifted, mm"), "{table}");
}
