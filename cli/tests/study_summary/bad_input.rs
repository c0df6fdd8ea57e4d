//! Tables and options that cannot be taken: refused in words, nothing written over.

use std::fs;

use crate::helpers::{Folder, refused, run};
use crate::tables::{CLEARANCE, GRID, loaded, piece, table, written};

fn grid(folder: &Folder) -> String {
    written(folder, "grid.ron", GRID, "plan: FullGrid", CLEARANCE)
}

#[test]
fn what_is_no_table_is_refused_and_says_why() {
    let folder = Folder::new();
    let study = grid(&folder);
    let scene = folder.shell("scene.ron");
    let empty = folder.file("empty.csv", "");
    let other = folder.file("other.csv", "tooth,clearance\n36,1.5\n");
    let not_text = folder.file("noise.csv", [0xff, 0xfe, b'\n', 0x00]);
    for (table, words) in [
        (folder.shell("none.parquet"), "no such file; `eminentia study run`"),
        (folder.shell(""), "is a folder"),
        (empty, "is empty"),
        (other, "its first column is `tooth`, not `row`"),
        (not_text, "is no table of a study"),
        (scene, "is no table of a study"),
    ] {
        refused(&run(&["study", "summary", &table, "--study", &study]), &[words]);
    }
}

#[test]
fn a_parquet_cut_short_anywhere_is_refused() {
    let folder = Folder::new();
    let whole = fs::read(table(&folder, &grid(&folder), "whole.parquet")).unwrap();
    for cut in (5..whole.len()).step_by(whole.len() / 23).chain([whole.len() - 1]) {
        let table = folder.file("cut.parquet", &whole[..cut]);
        refused(&run(&["study", "summary", &table]), &["cut short or damaged", "study run"]);
    }
}

#[test]
fn a_csv_cut_short_or_edited_is_refused_with_its_line() {
    let folder = Folder::new();
    let study = grid(&folder);
    let csv = table(&folder, &study, "table.csv");
    let text = fs::read_to_string(&csv).unwrap();
    let lines: Vec<&str> = text.lines().collect();
    let fields: Vec<&str> = lines[5].split(',').collect();
    let edited = |change: &dyn Fn(&mut Vec<String>)| {
        let mut lines: Vec<String> = lines.iter().map(|line| (*line).to_owned()).collect();
        change(&mut lines);
        folder.file("edited.csv", lines.join("\n") + "\n")
    };
    let field = |place: usize, value: &str| {
        let mut own: Vec<&str> = fields.clone();
        own[place] = value;
        own.join(",")
    };
    for (change, words) in [
        (field(1, "thirty"), "edited.csv:6: `horizontal_inclination_deg` is `thirty`"),
        (field(0, "x"), "`row` is `x`"),
        (fields[..4].join(","), "cut short there, or edited"),
        (field(0, "7"), "row 7 stands where row 3 should"),
    ] {
        let table = edited(&|lines| lines[5].clone_from(&change));
        refused(&run(&["study", "summary", &table, "--study", &study]), &[words]);
    }
    // The caution comes first, then the names.
    let other_name = edited(&|lines| lines[1] = lines[1].replace("clearance", "distance"));
    refused(
        &run(&["study", "summary", &other_name, "--study", &study]),
        &["where the study has `protrusive.3mm"],
    );
    let no_reason = edited(&|lines| {
        lines.iter_mut().skip(1).for_each(|line| *line = line.rsplit_once(',').unwrap().0.to_owned());
    });
    refused(&run(&["study", "summary", &no_reason, "--study", &study]), &["columns, and the study has"]);
    let only_names = edited(&|lines| lines.truncate(2));
    refused(&run(&["study", "summary", &only_names, "--study", &study]), &["no row", "--resume"]);
}

#[test]
fn a_text_that_is_called_parquet_is_told_what_it_is_not() {
    let folder = Folder::new();
    let text = folder.file("t.parquet", "row,horizontal_inclination_deg\n0,20\n");
    refused(&run(&["study", "summary", &text]), &["is no Parquet file", "PAR1", "ends in .csv"]);
}

#[test]
fn a_csv_needs_its_study_and_a_table_of_another_is_found_out() {
    let folder = Folder::new();
    let study = grid(&folder);
    let (csv, parquet) = (table(&folder, &study, "t.csv"), table(&folder, &study, "t.parquet"));
    refused(&run(&["study", "summary", &csv]), &["--study"]);
    // The same columns and as many rows, another level.
    let other = folder.file("other.ron", fs::read_to_string(&study).unwrap().replace("50.0", "51.0"));
    let left = run(&["study", "summary", &csv, "--study", &other]);
    refused(&left, &["is no table of the study", "of row 11 is 50, and the study gives 51"]);
    refused(
        &run(&["study", "summary", &parquet, "--study", &other]),
        &["made by another study than", "other.ron"],
    );
    // The same factors over another scene: only measures tell.
    let scene = fs::read_to_string(folder.path("scene.ron")).unwrap();
    folder.file(
        "scene.ron",
        scene.replace("intercondylar_distance_mm: 110.0", "intercondylar_distance_mm: 111.0"),
    );
    let left = run(&["study", "summary", &csv, "--study", &study]);
    refused(&left, &["_mm` of row", "and the study gives"]);
}

#[test]
fn parts_must_belong_together_and_leave_no_row_out() {
    let folder = Folder::new();
    let study = loaded(&grid(&folder));
    let first = piece(&folder, &study, "1.parquet", 0..5, 5);
    let second = piece(&folder, &study, "2.parquet", 5..9, 5);
    let third = piece(&folder, &study, "3.parquet", 9..12, 5);
    assert_eq!(run(&["study", "summary", &third, &first, &second]).status, 0);
    refused(&run(&["study", "summary", &first, &third]), &["3.parquet: row 9 stands where row 5 should"]);
    refused(&run(&["study", "summary", &first, &first]), &["row 0 stands where row 5 should"]);
    let other = written(&folder, "o.ron", &GRID.replace("50.0", "51.0"), "plan: FullGrid", CLEARANCE);
    let other = piece(&folder, &loaded(&other), "o.parquet", 9..12, 5);
    refused(&run(&["study", "summary", &first, &second, &other]), &["are tables of different studies"]);
}

#[test]
fn names_and_numbers_that_there_are_not_are_refused_with_those_that_there_are() {
    let folder = Folder::new();
    let parquet = table(&folder, &grid(&folder), "t.parquet");
    for (option, given, words) in [
        ("--measure", "clearence", "protrusive.3mm.36.mesiobuccal.clearance_mm"),
        ("--measure", "", "--measure"),
        ("--factor", "wing", "it has horizontal_inclination_deg, anterior_guide.sagittal_inclination_deg"),
        ("--resamples", "0", "20"),
        ("--seed", "-1", "seed"),
        ("--report", "report.pdf", ".html"),
        ("--plots", "t.parquet", "a folder is needed"),
    ] {
        let given = if option == "--plots" { folder.shell(given) } else { given.to_owned() };
        refused(&run(&["study", "summary", &parquet, option, &given]), &[words]);
    }
    let inclination = "horizontal_inclination_deg";
    let left = run(&["study", "summary", &parquet, "--factor", inclination, "--factor", inclination]);
    refused(&left, &["named twice"]);
}

#[test]
fn nothing_that_is_read_is_written_over() {
    let folder = Folder::new();
    let study = grid(&folder);
    let csv = table(&folder, &study, "t.csv");
    let before = fs::read(&csv).unwrap();
    let page = folder.file("page.html", &before);
    for (option, file) in [("--out", &csv), ("--out", &study), ("--report", &page)] {
        let table = if option == "--report" { &page } else { &csv };
        let left = run(&["study", "summary", table, "--study", &study, option, file]);
        refused(&left, &[option, "that is read"]);
    }
    let scene = folder.shell("scene.ron");
    refused(&run(&["study", "summary", &csv, "--study", &study, "--out", &scene]), &["file of the study"]);
    let out = folder.shell("out.html");
    let left = run(&["study", "summary", &csv, "--study", &study, "--out", &out, "--report", &out]);
    refused(&left, &["are the same file"]);
    assert_eq!(fs::read(&csv).unwrap(), before);
}
