//! Whatever is given as a tracing, the answer says what is wrong and where, with exit status 2.

use crate::helpers::{Folder, Left, run};

const HEAD: &str = "leg,forward_mm,left_mm\n";

fn refused(left: &Left, words: &[&str]) {
    assert_eq!(left.status, 2, "{}{}", left.out, left.err);
    assert!(left.out.is_empty(), "{}", left.out);
    assert!(!left.err.contains("panicked"), "{}", left.err);
    for word in words {
        assert!(left.err.contains(word), "{word:?} not in: {}", left.err);
    }
}

/// Rows of an arrow whose legs are multiplied by a length.
fn arrow(mm: f64) -> String {
    let mut text = HEAD.to_owned();
    for (leg, way) in
        [("protrusive", (-1.0, 0.0)), ("right_lateral", (-0.5, 0.87)), ("left_lateral", (-0.5, -0.87))]
    {
        for step in 0..20 {
            let s = f64::from(step) * mm * 0.05;
            text += &format!("{leg},{},{}\n", way.0 * s, way.1 * s);
        }
    }
    text
}

fn points(text: impl AsRef<[u8]>, words: &[&str]) {
    let folder = Folder::new();
    let file = folder.file("points.csv", text);
    refused(&run(&["tracing", &file]), &[&[file.as_str()], words].concat());
}

#[test]
fn a_missing_file_and_a_folder_are_named() {
    refused(&run(&["tracing", "no/such.csv"]), &["no/such.csv", "no such file"]);
    refused(&run(&["tracing", &Folder::new().shell("")]), &["is a folder"]);
}

#[test]
fn an_empty_file_and_one_without_points_are_told() {
    points("", &["is empty", "leg,forward_mm,left_mm"]);
    points(HEAD, &["the protrusive leg has no point"]);
}

#[test]
fn a_leg_that_is_empty_or_a_point_is_named() {
    let without = |leg: &str| {
        arrow(8.0)
            .lines()
            .filter(|line| !line.starts_with(leg))
            .map(|line| format!("{line}\n"))
            .collect::<String>()
    };
    points(without("left_lateral"), &["the left lateral leg has no point"]);
    let one = without("right_lateral") + "right_lateral,-1,2\n";
    points(one, &["the right lateral leg has 1 different point"]);
}

#[test]
fn what_is_no_number_is_told_with_its_line_and_field() {
    for given in ["NaN", "inf", "-infinity", "", "1.5mm", "1,5", "1e999"] {
        points(format!("{HEAD}protrusive,1,2\nprotrusive,{given},3\n"), &[":3:"]);
    }
    points(format!("{HEAD}protrusive,NaN,3\n"), &["field forward_mm is `NaN`"]);
}

#[test]
fn another_unit_is_told_by_its_name_or_its_size() {
    points("leg,forward_cm,left_cm\n", &[":1:", "millimetres"]);
    points("leg,x_px,y_px\n", &[":1:", "Pixels"]);
    points(arrow(200.0), &["190.0 mm long", "pixels"]);
    points(arrow(0.8), &["0.76 mm long", "centimetres"]);
}

#[test]
fn an_unknown_leg_and_a_missing_field_are_told() {
    points(format!("{HEAD}middle,1,2\n"), &[":2:", "`middle`", "protrusive, right_lateral, left_lateral"]);
    points(format!("{HEAD}protrusive,1\n"), &[":2:", "2 fields"]);
    points(format!("{HEAD}protrusive,1,2,3\n"), &[":2:", "4 fields"]);
}

#[test]
fn what_is_no_text_is_told() {
    points(b"\x00\xff\xfe\x01 not a picture", &["not UTF-8", "PNG or JPEG"]);
}

#[test]
fn a_mirrored_or_turned_tracing_is_told() {
    let swap = arrow(8.0).replace("right_lateral", "other").replace("left_lateral", "right_lateral");
    points(swap.replace("other", "left_lateral"), &["names exchanged"]);
    points(arrow(-8.0), &["straight backward"]);
}

#[test]
fn output_does_not_go_over_the_tracing() {
    let folder = Folder::new();
    let file = folder.file("points.csv", arrow(8.0));
    refused(&run(&["tracing", &file, "--out", &file]), &["choose another file"]);
}
