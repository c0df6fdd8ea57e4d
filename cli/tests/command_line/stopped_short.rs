//! An excursion that has no pose in mid-path: the good part is written, the failure is named.

use serde_json::Value;

use crate::helpers::{Folder, Parts, number, run};

/// An arc of 3 mm at 40° ends at 3·(1 + sin 40°) = 4.928 mm.
const SHORT_ARC: &str =
    "(horizontal_inclination_deg: 40.0, lateral_angle_deg: 15.0, path: Arc(radius_mm: 3.0))";

fn parts() -> Parts {
    Parts {
        left_guide: SHORT_ARC,
        excursions: "Protrusive(advance_mm: 6.0), LeftLateral(advance_mm: 6.0)",
        ..Parts::default()
    }
}

#[test]
fn the_good_part_is_written_and_the_failure_named_in_every_format() {
    let folder = Folder::new();
    let scene = folder.scene(&parts());
    for format in ["table", "csv", "json"] {
        let left = run(&["excursion", &scene, "--format", format]);
        assert_eq!(left.status, 1, "{format}");
        for words in ["protrusive", "5 mm of condylar advance", "left_guide.path", "4.928"] {
            assert!(left.err.contains(words), "{words}: {}", left.err);
        }
        match format {
            "table" => {
                assert!(left.out.contains("stops, 4.00 mm advance"), "{}", left.out);
                assert!(left.out.contains("Stopped short: protrusive"), "{}", left.out);
            }
            "csv" => {
                let rows = |name: &str| left.out.lines().filter(|row| row.starts_with(name)).count();
                // Two cusps: 0 to 4 mm of the one, all of the other.
                assert_eq!([rows("protrusive,"), rows("left_lateral,")], [5 * 2, 7 * 2]);
            }
            _ => {
                let run: Value = serde_json::from_str(&left.out).unwrap();
                let stopped = &run["excursions"][0];
                assert_eq!(stopped["samples"].as_array().unwrap().len(), 5);
                assert_eq!(number(&stopped["failure"], "advance_mm"), 5.0);
                assert!(stopped["failure"]["message"].as_str().unwrap().contains("left_guide.path"));
                // The right guide steers the left lateral excursion, and is straight.
                assert_eq!(run["excursions"][1]["samples"].as_array().unwrap().len(), 7);
                assert!(run["excursions"][1].get("failure").is_none());
            }
        }
    }
}

#[test]
fn the_good_part_reaches_the_file() {
    let folder = Folder::new();
    let scene = folder.scene(&parts());
    let out = folder.file("out.csv", "old");
    assert_eq!(run(&["excursion", &scene, "--format", "csv", "--out", &out]).status, 1);
    assert_eq!(std::fs::read_to_string(&out).unwrap().lines().count(), 2 + 5 * 2 + 7 * 2);
    assert_eq!(folder.names(), ["out.csv", "scene.ron"]);
}

#[test]
fn a_comparison_tells_which_scene_stopped() {
    let folder = Folder::new();
    let scene = folder.scene(&parts());
    let left = run(&["compare", &scene, "--with", "path=Straight"]);
    assert_eq!(left.status, 1);
    assert!(left.out.contains("first stopped short: protrusive"), "{}", left.out);
    assert!(!left.out.contains("second stopped short"), "{}", left.out);
    assert!(left.err.contains("scene.ron: protrusive"), "{}", left.err);
}

#[test]
fn an_excursion_without_even_a_pose_at_rest_is_told() {
    let folder = Folder::new();
    let scene = folder.scene(&Parts::default());
    // A plate at right angles to the line from the axis to the pin tip, and the pin shortened: the
    // tip swings past above it.
    let with =
        ["anterior_guide.sagittal_inclination_deg=-30", "incisal_point_mm.z=-150", "pin_extension_mm=-30"]
            .map(|change| ["--with", change])
            .concat();
    let table = run(&[&["excursion", &scene], &with[..]].concat());
    assert_eq!(table.status, 1, "{}", table.out);
    assert!(table.out.contains("no pose at rest"), "{}", table.out);
    assert!(table.err.contains("anterior_guide"), "{}", table.err);
    for format in ["csv", "json"] {
        assert_eq!(run(&[&["excursion", &scene, "--format", format], &with[..]].concat()).status, 1);
    }
}
