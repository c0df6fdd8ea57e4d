//! Casts that cannot be read or made, and files that must not be written.

use serde_json::Value;

use crate::casts::{guided, written};
use crate::helpers::{Folder, LEVEL_TABLE, Parts, refused, run};

/// A scene with these casts is refused in these words.
fn refused_with(casts: &'static str, folder: &Folder, words: &[&str]) {
    let scene = folder.scene(&Parts { casts, ..guided() });
    for command in ["excursion", "contacts", "custom-table"] {
        refused(&run(&[command, &scene]), words);
    }
    refused(&run(&["compare", &scene, "--with", "horizontal_inclination_deg=10"]), words);
}

const FILES: &str = "casts: (upper: \"u.stl\", lower: \"l.stl\"),";

#[test]
fn scans_that_cannot_be_read_are_named_with_the_reason() {
    let folder = Folder::new();
    refused_with(FILES, &folder, &["u.stl", "no such file"]);
    std::fs::create_dir(folder.path("u.stl")).unwrap();
    refused_with(FILES, &folder, &["u.stl", "is no file"]);
    std::fs::remove_dir(folder.path("u.stl")).unwrap();
    folder.file("u.stl", "");
    refused_with(FILES, &folder, &["u.stl", "is empty"]);
    folder.file("u.stl", "this is no mesh at all");
    refused_with(FILES, &folder, &["u.stl"]);
}

#[test]
fn a_truncated_scan_and_one_that_promises_too_much_are_refused() {
    let folder = Folder::new();
    let made = folder.file("made.ron", guided().text());
    let files = ["--upper", &folder.shell("u.stl"), "--lower", &folder.shell("l.stl")];
    assert_eq!(run(&[&["casts", &made], &files[..]].concat()).status, 0);
    let whole = std::fs::read(folder.path("u.stl")).unwrap();
    folder.file("u.stl", &whole[..whole.len() / 2]);
    refused_with(FILES, &folder, &["u.stl", "STL"]);
    let mut bomb = whole[..200].to_vec();
    bomb[80..84].copy_from_slice(&[0xff; 4]);
    folder.file("u.stl", bomb);
    refused_with(FILES, &folder, &["u.stl", "4294967295"]);
    folder.file("u.stl", &whole);
    folder.file("l.stl", &whole[..84]);
    refused_with(FILES, &folder, &["l.stl"]);
}

#[test]
fn a_scan_of_another_size_or_unit_is_warned_of_or_refused() {
    let folder = Folder::new();
    let made = folder.file("made.ron", guided().text());
    let files = ["--upper", &folder.shell("u.obj"), "--lower", &folder.shell("l.obj")];
    assert_eq!(run(&[&["casts", &made], &files[..]].concat()).status, 0);
    let casts = "casts: (upper: \"u.obj\", lower: \"l.obj\"),";
    let scene = folder.scene(&Parts { casts, ..guided() });
    let left = run(&["excursion", &scene, "--format", "json"]);
    assert_eq!(left.status, 0, "{}", left.err);
    assert!(
        left.err.contains("warning") && left.err.contains("u.obj") && left.err.contains("unit"),
        "{}",
        left.err
    );
    assert!(serde_json::from_str::<Value>(&left.out).is_ok());
    // Ten times as large as any jaw, in every unit.
    let grown: String = std::fs::read_to_string(folder.path("u.obj"))
        .unwrap()
        .lines()
        .map(|line| match line.strip_prefix("v ") {
            Some(numbers) => {
                let grown: Vec<String> = numbers
                    .split(' ')
                    .map(|number| (number.parse::<f64>().unwrap() * 1000.0).to_string())
                    .collect();
                format!("v {}\n", grown.join(" "))
            }
            None => format!("{line}\n"),
        })
        .collect();
    folder.file("u.obj", grown);
    refused_with("casts: (upper: \"u.obj\", lower: \"l.obj\"),", &folder, &["u.obj", "unit"]);
}

#[test]
fn casts_that_are_missing_doubled_or_impossible_are_refused() {
    let folder = Folder::new();
    let scene = folder.scene(&Parts { casts: "", ..guided() });
    refused(&run(&["excursion", &scene]), &["anterior_guide is Casts", "no casts"]);
    let both = "casts: (upper: \"u.stl\", lower: \"l.stl\"), invented_casts: (kind: Dentate),";
    let scene = folder.scene(&Parts { casts: both, ..guided() });
    refused(&run(&["excursion", &scene]), &["casts", "invented_casts"]);
    let impossible = "invented_casts: (kind: Dentate, overbite_mm: 5.0, overjet_mm: 1.0),";
    let scene = folder.scene(&Parts { casts: impossible, ..guided() });
    refused(&run(&["excursion", &scene]), &["overbite_mm"]);
    let out_of_range = "invented_casts: (kind: Dentate, cusp_angle_deg: 90.0),";
    let scene = folder.scene(&Parts { casts: out_of_range, ..guided() });
    refused(&run(&["excursion", &scene]), &["cusp_angle_deg is 90"]);
    let scene = folder.scene(&Parts { anterior_guide: LEVEL_TABLE, casts: "", ..guided() });
    for command in ["contacts", "custom-table"] {
        refused(&run(&[command, &scene]), &["has no casts"]);
    }
    let [upper, lower] = [folder.shell("u.stl"), folder.shell("l.stl")];
    refused(&run(&["casts", &scene, "--upper", &upper, "--lower", &lower]), &["has no invented_casts"]);
}

#[test]
fn files_of_a_pair_are_checked_before_anything_is_written() {
    let folder = Folder::new();
    let scene = folder.scene(&guided());
    let [upper, lower] = [folder.shell("u.stl"), folder.shell("l.stl")];
    let pair = |upper: &str, lower: &str, more: &[&str]| {
        run(&[&["casts", &scene, "--upper", upper, "--lower", lower], more].concat())
    };
    refused(&pair(&folder.shell("u.xyz"), &lower, &[]), &["--upper", "u.xyz", ".stl, .ply or .obj"]);
    refused(&pair(&upper, &upper, &[]), &["--upper and --lower are the same file"]);
    refused(&pair(&upper, &lower, &["--scene-out", &lower]), &["--lower and --scene-out"]);
    refused(&pair(&upper, &folder.shell("no/such/l.stl"), &[]), &["--lower", "cannot be written"]);
    refused(&pair(&upper, &lower, &["--scene-out", &scene]), &["is the scene that is read"]);
    refused(&run(&["casts", "--upper", &upper]), &["--lower"]);
    refused(&run(&["casts", &scene, "--kind", "dentate", "--upper", &upper, "--lower", &lower]), &["--kind"]);
    assert_eq!(folder.names(), ["scene.ron"]);
}

#[test]
fn scans_are_not_written_over() {
    let folder = Folder::new();
    let made = folder.scene(&guided());
    let scene = written(&folder, &made, "ply");
    let [upper, lower] = [folder.shell("upper.ply"), folder.shell("lower.ply")];
    let before = [&upper, &lower].map(|file| std::fs::read(file).unwrap());
    let words = |arch: &str| format!("is the {arch} cast that is read");
    refused(&run(&["excursion", &scene, "--out", &upper]), &[&words("upper")]);
    let with = ["--with", "horizontal_inclination_deg=10"];
    refused(&run(&[&["compare", &scene, "--out", &lower], &with[..]].concat()), &[&words("lower")]);
    refused(&run(&["contacts", &scene, "--marked-lower", &lower]), &[&words("lower")]);
    refused(&run(&["custom-table", &scene, "--print", &upper]), &[&words("upper")]);
    assert_eq!([&upper, &lower].map(|file| std::fs::read(file).unwrap()), before);
}
