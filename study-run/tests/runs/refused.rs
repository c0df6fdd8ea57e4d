//! What a run refuses, and in which words.

use std::fs::{self, File};

use study_run::{Destination, Existing, Options, Part, RunError};

use crate::support::{Folder, ROWS, STUDY, options, ran, stopped, study};

fn words(result: Result<study_run::Finished, RunError>, words: &[&str]) {
    let error = result.unwrap_err();
    assert!(!error.is_of_the_work(), "{error}");
    let said = error.to_string();
    for word in words {
        assert!(said.contains(word), "{word:?} not in: {said}");
    }
}

#[test]
fn a_table_that_is_there_stays_unless_it_is_to_be_written_over() {
    let folder = Folder::new();
    for name in ["table.parquet", "table.csv"] {
        let path = folder.path(name);
        fs::write(&path, "mine").unwrap();
        words(ran(&STUDY, &options(&path, Existing::Refused)), &[name, "already there", "--overwrite"]);
        words(ran(&STUDY, &options(&path, Existing::Resumed)), &[name, "--overwrite"]);
        assert_eq!(fs::read(&path).unwrap(), b"mine");
        stopped(&STUDY, &options(&path, Existing::Replaced), 64);
        assert_eq!(fs::read(&path).unwrap(), b"mine", "the old table stays until the new one is whole");
        ran(&STUDY, &options(&path, Existing::Replaced)).unwrap();
        assert_ne!(fs::read(&path).unwrap(), b"mine");
    }
}

#[test]
fn an_unfinished_run_is_neither_lost_nor_gone_on_with_unasked() {
    let folder = Folder::new();
    let path = folder.path("table.parquet");
    stopped(&STUDY, &options(&path, Existing::Refused), 64);
    let said = ["table.unfinished.parquet", "--resume", "--overwrite"];
    words(ran(&STUDY, &options(&path, Existing::Refused)), &said);
    assert_eq!(folder.names().len(), 2);
}

#[test]
fn a_run_of_another_study_is_not_gone_on_with() {
    let (other_seed, fewer_rows) = (study(ROWS, 4), study(ROWS - 1, 3));
    for name in ["table.parquet", "table.csv"] {
        let folder = Folder::new();
        let path = folder.path(name);
        stopped(&STUDY, &options(&path, Existing::Refused), 64);
        for other in [&other_seed, &fewer_rows] {
            let said = ["another study", STUDY.sha256().split_at(12).0, other.sha256().split_at(12).0];
            words(ran(other, &options(&path, Existing::Resumed)), &said);
        }
        ran(&STUDY, &options(&path, Existing::Resumed)).unwrap();
    }
    let folder = Folder::new();
    let path = folder.path("table.parquet");
    ran(&STUDY, &options(&path, Existing::Refused)).unwrap();
    words(ran(&other_seed, &options(&path, Existing::Resumed)), &["another study"]);
}

#[test]
fn a_run_of_another_part_is_not_gone_on_with() {
    let folder = Folder::new();
    let path = folder.path("table.parquet");
    let part =
        |number, of| Options { part: Part::new(number, of).unwrap(), ..options(&path, Existing::Resumed) };
    stopped(&STUDY, &part(1, 2), 1);
    let rename = |ending: &str| {
        let (one, other) = ("table.part-1-of-2.unfinished", "table.part-2-of-2.unfinished");
        fs::rename(folder.path(&format!("{one}{ending}")), folder.path(&format!("{other}{ending}"))).unwrap();
    };
    rename(".parquet");
    rename(".parquet.journal");
    words(ran(&STUDY, &part(2, 2)), &["part 1/2", "part 2/2"]);
}

#[test]
fn two_runs_do_not_write_one_file() {
    let folder = Folder::new();
    let path = folder.path("table.parquet");
    stopped(&STUDY, &options(&path, Existing::Refused), 64);
    let journal = File::open(folder.path("table.unfinished.parquet.journal")).unwrap();
    journal.lock().unwrap();
    for existing in [Existing::Resumed, Existing::Replaced] {
        words(ran(&STUDY, &options(&path, existing)), &["another run"]);
    }
    journal.unlock().unwrap();
    ran(&STUDY, &options(&path, Existing::Resumed)).unwrap();
}

#[test]
fn what_is_no_table_is_refused_with_what_would_be() {
    let folder = Folder::new();
    words(ran(&STUDY, &options(&folder.path("table.xlsx"), Existing::Refused)), &[".parquet", ".csv"]);
    words(ran(&STUDY, &options(&folder.path("table"), Existing::Refused)), &[".parquet", ".csv"]);
    fs::create_dir(folder.path("folder.csv")).unwrap();
    words(ran(&STUDY, &options(&folder.path("folder.csv"), Existing::Refused)), &["no ordinary file"]);
    words(
        ran(&STUDY, &options(&folder.path("nowhere/table.csv"), Existing::Refused)),
        &["nowhere", "cannot"],
    );
    for existing in [Existing::Resumed, Existing::Replaced] {
        let options = Options { destination: Destination::Standard, ..options("".as_ref(), existing) };
        words(ran(&STUDY, &options), &["needs a file"]);
    }
}

#[test]
fn a_file_that_the_study_is_read_from_is_not_written_over() {
    let folder = Folder::new();
    fs::write(folder.path("angles.csv"), "h\n30\n40\n").unwrap();
    let text = crate::support::text(4, 1)
        .replace("Normal(mean: 40.0, sd: 25.0)", "Column(file: \"angles.csv\", column: \"h\")");
    fs::write(folder.path("study.ron"), text).unwrap();
    let study = files::load(&files::Source::File(folder.path("study.ron"))).unwrap();
    words(
        ran(&study, &options(&folder.path("angles.csv"), Existing::Replaced)),
        &["angles.csv", "read from"],
    );
    assert_eq!(fs::read(folder.path("angles.csv")).unwrap(), b"h\n30\n40\n");
}
