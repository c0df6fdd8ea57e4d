//! Runs that are stopped by a signal, and runs that are killed.

#![cfg(unix)]

use std::fs;
use std::path::Path;
use std::process::{Child, Command};
use std::time::{Duration, Instant};

use crate::support::{Folder, end, run, start, study_with_casts};

/// Rows that take seconds in a debug build: a signal finds the run at work.
const ROWS: u64 = 16_000;
/// Longer than any run here takes to write its first groups on a busy machine.
const PATIENCE: Duration = Duration::from_secs(60);

fn signal(child: &Child, name: &str) {
    assert!(Command::new("kill").args([name, &child.id().to_string()]).status().unwrap().success());
}

/// Waits until so many bytes are written.
fn written(path: &Path, bytes: u64) {
    let began = Instant::now();
    while fs::metadata(path).map_or(0, |about| about.len()) < bytes {
        assert!(began.elapsed() < PATIENCE, "nothing is written");
        std::thread::sleep(Duration::from_millis(5));
    }
}

#[test]
fn control_c_leaves_a_table_to_be_read_and_resume_ends_it_as_if_nothing_had_been() {
    let folder = Folder::new();
    let study = study_with_casts(&folder, ROWS);
    let undisturbed = folder.shell("undisturbed.parquet");
    run(&["study", "run", &study, "--out", &undisturbed]).ended(0, &[]);
    let table = folder.shell("table.parquet");
    let child = start(&["study", "run", &study, "--out", &table]);
    written(&folder.path("table.unfinished.parquet"), 20_000);
    signal(&child, "-INT");
    end(child).ended(1, &["table.unfinished.parquet: stopped with", "of 16,000 rows", "--resume"]);
    assert!(!folder.path("table.parquet").exists());
    let left = fs::read(folder.path("table.unfinished.parquet")).unwrap();
    assert!(left.starts_with(b"PAR1") && left.ends_with(b"PAR1"), "a whole Parquet file");
    run(&["study", "run", &study, "--out", &table, "--resume"]).ended(0, &["Going on after", "16,000 rows"]);
    assert!(fs::read(&table).unwrap() == fs::read(&undisturbed).unwrap());
}

#[test]
fn a_run_killed_again_and_again_ends_as_if_nothing_had_been() {
    let folder = Folder::new();
    let study = study_with_casts(&folder, ROWS);
    let undisturbed = folder.shell("undisturbed.csv");
    run(&["study", "run", &study, "--out", &undisturbed]).ended(0, &[]);
    let (table, unfinished) = (folder.shell("table.csv"), folder.path("table.unfinished.csv"));
    for _ in 0..3 {
        let before = fs::metadata(&unfinished).map_or(0, |about| about.len());
        let child = start(&["study", "run", &study, "--out", &table, "--resume"]);
        written(&unfinished, before + 100_000);
        signal(&child, "-KILL");
        assert_eq!(end(child).status, None);
    }
    run(&["study", "run", &study, "--out", &table, "--resume"]).ended(0, &["16,000 rows"]);
    assert!(fs::read(&table).unwrap() == fs::read(&undisturbed).unwrap());
    assert!(!folder.names().iter().any(|name| name.contains("unfinished")), "{:?}", folder.names());
}
