//! Whatever is given, the answer says what is wrong and where, with exit status 2 and no panic.

use crate::helpers::{Folder, Parts, TWO_CUSPS, left, refused, run};

/// A scene with one text in it replaced is refused at the line where that text stands.
fn refused_at(from: &str, to: &str, words: &[&str]) {
    let folder = Folder::new();
    let text = Parts::default().text();
    let at = text.find(from).unwrap_or_else(|| panic!("{from} is in the scene"));
    let line = 1 + text[..at].matches('\n').count();
    let scene = folder.file("scene.ron", text.replacen(from, to, 1));
    let left = run(&["excursion", &scene]);
    let place = format!("{scene}:{line}:");
    refused(&left, &[&[place.as_str()], words].concat());
}

#[test]
fn a_missing_file_is_named() {
    refused(&run(&["excursion", "no/such.ron"]), &["no/such.ron", "no such file"]);
}

#[test]
fn a_folder_is_no_scene() {
    let folder = Folder::new();
    let path = folder.shell("");
    refused(&run(&["excursion", &path]), &[&path, "folder"]);
}

#[test]
fn binary_junk_is_told_by_its_first_wrong_byte() {
    let folder = Folder::new();
    let scene = folder.file("junk.ron", b"(title:\n\"\xff\xfe\x00");
    refused(&run(&["excursion", &scene]), &[&scene, "not UTF-8", "byte: 10 of 12", "line 2"]);
}

#[test]
fn an_empty_or_truncated_scene_is_refused() {
    let folder = Folder::new();
    refused(&run(&["excursion", &folder.file("empty.ron", "")]), &["empty.ron:1:1:"]);
    let text = Parts::default().text();
    for end in [20, text.len() / 2, text.len() - 3] {
        let scene = folder.file("cut.ron", &text[..end]);
        refused(&run(&["excursion", &scene]), &["cut.ron:"]);
    }
}

#[test]
fn a_huge_file_is_not_read() {
    let folder = Folder::new();
    let path = folder.file("huge.ron", "");
    std::fs::File::options().write(true).open(&path).unwrap().set_len(60_000_000).unwrap();
    refused(&run(&["excursion", &path]), &["larger than 50 MB"]);
}

#[cfg(unix)]
#[test]
fn a_file_without_end_is_not_read_for_ever() {
    refused(&run(&["excursion", "/dev/zero"]), &["/dev/zero", "larger than 50 MB"]);
}

#[test]
fn numbers_out_of_range_are_told_with_what_is_allowed() {
    refused_at(
        "horizontal_inclination_deg: 40.0",
        "horizontal_inclination_deg: 90.0",
        &["field instrument.right_guide.horizontal_inclination_deg is 90", "-30 to 85 degrees"],
    );
    refused_at(
        "intercondylar_distance_mm: 110.0",
        "intercondylar_distance_mm: -110.0",
        &["-110", "60 to 180 mm"],
    );
    refused_at(
        "intercondylar_distance_mm: 110.0",
        "intercondylar_distance_mm: NaN",
        &["not a finite number"],
    );
    refused_at(
        "intercondylar_distance_mm: 110.0",
        "intercondylar_distance_mm: inf",
        &["not a finite number"],
    );
    refused_at("at_mm: (58.0", "at_mm: (1e300", &["at_mm"]);
    refused_at("Protrusive(advance_mm: 6.0)", "Protrusive(advance_mm: -6.0)", &["advance_mm is -6"]);
}

#[test]
fn a_tooth_that_nobody_has_and_samples_that_are_none_are_refused() {
    refused_at("tooth: 36", "tooth: 19", &["tooth is 19", "11 to 18"]);
    refused_at("samples: 7", "samples: 0", &["samples is 0", "2 to"]);
    refused_at("samples: 7", "samples: 2.5", &["samples", "whole number"]);
}

#[test]
fn unknown_missing_and_doubled_fields_are_named() {
    refused_at(
        "lateral_angle_deg: 15.0",
        "lateral_angel_deg: 15.0",
        &["lateral_angel_deg", "lateral_angle_deg"],
    );
    refused_at("design: Arcon,", "design: Arcon, design: Arcon,", &["design"]);
    let folder = Folder::new();
    let scene = folder.file("scene.ron", Parts::default().text().replace("samples: 7,", ""));
    refused(&run(&["excursion", &scene]), &["samples"]);
}

#[test]
fn a_scene_that_makes_no_sense_as_a_whole_is_refused() {
    let folder = Folder::new();
    let scene = folder.scene(&Parts { excursions: "", ..Parts::default() });
    refused(&run(&["excursion", &scene]), &["excursions is empty"]);
    let incisors = folder.scene(&Parts::default());
    let with = ["--with", "anterior_guide=Incisors", "--with", "pin_extension_mm=2"];
    refused(&run(&[&["excursion", &incisors], &with[..]].concat()), &["pin_extension_mm", "Incisors"]);
}

#[test]
fn a_mistyped_change_is_answered_with_what_is_meant() {
    let change = |change: &str| run(&["excursion", "--with", change]);
    refused(
        &change("horizontal_inclinaton_deg=40"),
        &["horizontal_inclinaton_deg", "near it: horizontal_inclination_deg"],
    );
    refused(&change("horizontal_inclination_deg=400"), &["400", "-30 to 85 degrees"]);
    refused(&change("horizontal_inclination_deg=nan"), &["not a finite number"]);
    refused(&change("horizontal_inclination_deg=steep"), &["steep", "not a number"]);
    refused(&change("horizontal_inclination_deg"), &["NAME=VALUE"]);
    refused(&change("left_guide.design=Arcon"), &["design", "whole instrument"]);
    refused(&change("design=arcon"), &["Arcon, NonArcon"]);
    for samples in ["0", "1", "-5", "many", "1e3", "99999999999999999999"] {
        refused(&run(&["excursion", "--samples", samples]), &["samples"]);
    }
}

#[test]
fn an_unknown_command_or_format_is_refused() {
    refused(&run(&["excursoin"]), &["excursoin", "excursion"]);
    refused(&run(&["excursion", "--format", "xml"]), &["xml", "table, csv, json"]);
}

#[test]
fn deep_nesting_is_refused_and_not_followed() {
    let folder = Folder::new();
    let scene = folder.file("deep.ron", "(title:".repeat(100_000));
    refused(&run(&["excursion", &scene]), &["deep.ron:"]);
}

#[cfg(unix)]
#[test]
fn very_many_cusps_are_read_without_delay() {
    let folder = Folder::new();
    let (first, rest) = TWO_CUSPS.split_at(TWO_CUSPS.find("mesiobuccal").unwrap());
    let rest = rest.strip_prefix("mesiobuccal").unwrap().split_once("), (tooth").unwrap().0;
    let cusps: String = (0..60_000).map(|n| format!("{first}{n}{rest}),")).collect();
    let scene = folder.scene(&Parts { cusps: cusps.leak(), ..Parts::default() });
    // Compared each with each, they would take more than twenty seconds of the processor's time.
    let line = "ulimit -t 10; exec \"$0\" baseline \"$1\"";
    let program = env!("CARGO_BIN_EXE_eminentia");
    assert_eq!(left(assert_cmd::Command::new("sh").args(["-c", line, program, &scene])).status, 0);
}
