//! `eminentia study run`: where the table goes and what is said of it.

use std::fs;

use crate::support::{Folder, run, study};

#[test]
fn the_table_stands_beside_the_study_and_is_named_for_it() {
    let folder = Folder::new();
    let study = study(&folder, "FullGrid");
    let left = run(&["study", "run", &study]);
    left.ended(0, &["study.parquet: 6 rows"]);
    assert!(left.out.is_empty(), "{}", left.out);
    assert_eq!(folder.names(), ["scene.ron", "study.parquet", "study.parquet.origin.json", "study.ron"]);
    run(&["study", "run", &study]).refused(&["study.parquet", "already there", "--overwrite"]);
    run(&["study", "run", &study, "--resume"]).ended(0, &["nothing was computed"]);
    run(&["study", "run", &study, "--overwrite"]).ended(0, &["6 rows"]);
    run(&["study", "run", &study, "--overwrite", "--resume"]).refused(&["cannot be used with"]);
}

#[test]
fn csv_on_standard_output_is_the_csv_file() {
    let folder = Folder::new();
    let study = study(&folder, "FullGrid");
    let table = folder.shell("table.csv");
    run(&["study", "run", &study, "--out", &table]).ended(0, &[]);
    let printed = run(&["study", "run", &study, "--out", "-"]);
    printed.ended(0, &[]);
    assert_eq!(printed.out, fs::read_to_string(&table).unwrap());
    assert_eq!(printed.out.lines().count(), 2 + 6);
    run(&["study", "run", &study, "--out", "-", "--resume"]).refused(&["--resume needs a file"]);
}

#[test]
fn parts_are_named_and_follow_one_another() {
    let folder = Folder::new();
    let study = study(&folder, "FullGrid");
    let table = folder.shell("table.csv");
    run(&["study", "run", &study, "--out", &table]).ended(0, &[]);
    let mut lines = String::new();
    for number in 1..=4 {
        let part = format!("{number}/4");
        run(&["study", "run", &study, "--out", &table, "--part", &part]).ended(0, &[]);
        let text = fs::read_to_string(folder.path(&format!("table.part-{number}-of-4.csv"))).unwrap();
        // The caution and the names stand in every part.
        let rows = text.match_indices('\n').nth(1).unwrap().0 + 1;
        lines.push_str(if number == 1 { &text } else { &text[rows..] });
    }
    assert_eq!(lines, fs::read_to_string(table).unwrap());
    run(&["study", "run", &study, "--part", "5/4"]).refused(&["`5/4` is no part", "3/8"]);
    run(&["study", "run", &study, "--threads", "0"]).refused(&["--threads"]);
}

#[test]
fn rows_that_are_not_whole_are_counted_and_are_no_failure() {
    let folder = Folder::new();
    let study = study(&folder, "MonteCarlo(rows: 200, seed: 2)");
    let text = fs::read_to_string(&study)
        .unwrap()
        .replace("List([20.0, 30.0, 40.0])", "Normal(mean: 40.0, sd: 30.0)");
    let study = folder.file("wide.ron", text);
    let left = run(&["study", "run", &study, "--out", &folder.shell("wide.csv")]);
    left.ended(0, &["of 200 rows are not whole", "`reason`"]);
}

#[cfg(unix)]
#[test]
fn a_study_can_come_from_standard_input() {
    let folder = Folder::new();
    let text = fs::read_to_string(study(&folder, "FullGrid")).unwrap();
    let scene = fs::read_to_string(folder.path("scene.ron")).unwrap();
    let whole = folder.file("whole.ron", text.replace("\"scene.ron\"", &scene));
    let left = crate::support::shell("\"$0\" study run - --out - < \"$1\"", &[&whole]);
    left.ended(0, &[]);
    assert_eq!(left.out.lines().count(), 2 + 6);
    crate::support::shell("\"$0\" study run - < \"$1\"", &[&whole]).refused(&["--out"]);
}

#[cfg(unix)]
#[test]
fn a_closed_pipe_ends_a_run_quietly_and_a_full_disk_is_told_and_what_is_whole_stays() {
    use crate::support::{shell, study_with_casts};
    let folder = Folder::new();
    let study = study_with_casts(&folder, 4000);
    let left = shell(
        "{ \"$0\" study run \"$1\" --out -; echo \"status $?\" >&2; } | head -c 100 > /dev/null",
        &[&study],
    );
    // As a shell has it for a program that a closed pipe ended.
    assert_eq!(left.err.trim_end(), "status 141");

    // A file may have 64 blocks of 512 bytes; the signal that tells of more is ignored, as on a full disk.
    let line = "trap '' XFSZ; ulimit -f 64; exec \"$0\" study run \"$1\" --out \"$2\" --threads 1";
    let table = folder.shell("table.csv");
    let full = shell(line, &[&study, &table]);
    full.ended(1, &["table.unfinished.csv", "rows are kept", "--resume"]);
    // Within its first second the run has saved nothing; what was whole is kept all the same.
    assert!(!full.err.contains(" 0 rows are kept"), "{}", full.err);
    run(&["study", "run", &study, "--out", &table, "--resume"]).ended(0, &["4000 rows"]);
    let undisturbed = folder.shell("undisturbed.csv");
    run(&["study", "run", &study, "--out", &undisturbed]).ended(0, &[]);
    assert!(fs::read(table).unwrap() == fs::read(undisturbed).unwrap());
}

#[test]
fn a_table_that_cannot_fit_is_refused_before_it_is_begun() {
    let folder = Folder::new();
    let study = study(&folder, "MonteCarlo(rows: 1000000000000000, seed: 1)");
    let table = folder.shell("table.parquet");
    let left = run(&["study", "run", &study, "--out", &table]);
    left.refused(&["table.parquet", "needs about", "PB", "are free", "--ignore-free-space"]);
    assert_eq!(folder.names(), ["scene.ron", "study.ron"]);
    let plan = run(&["study", "plan", &study, "--threads", "1"]);
    assert!(plan.out.contains("the table does not fit there"), "{}", plan.out);
}
