//! What a run of a study finds in its way, and what it leaves there.

use std::fs;

use crate::support::{Folder, run, study};

#[cfg(unix)]
#[test]
fn a_link_in_the_place_of_an_unfinished_table_is_not_followed() {
    let folder = Folder::new();
    let (study, table) = (study(&folder, "FullGrid"), folder.shell("t.csv"));
    let kept = folder.file("kept.txt", "somebody's");
    for name in ["t.unfinished.csv", "t.unfinished.csv.journal"] {
        let link = folder.path(name);
        std::os::unix::fs::symlink(&kept, &link).unwrap();
        for how in ["--overwrite", "--resume"] {
            let left = run(&["study", "run", &study, "--out", &table, how]);
            left.refused(&[&table, name, "is a link"]);
            assert_eq!(fs::read_to_string(&kept).unwrap(), "somebody's", "{name} {how}");
        }
        fs::remove_file(link).unwrap();
    }
    run(&["study", "run", &study, "--out", &table]).ended(0, &["6 rows"]);
}

#[test]
fn a_start_that_failed_is_in_nobodys_way() {
    let folder = Folder::new();
    let (study, table) = (study(&folder, "FullGrid"), folder.shell("t.csv"));
    // What a run leaves that was ended before it wrote anything.
    folder.file("t.unfinished.csv.journal", "");
    run(&["study", "run", &study, "--out", &table]).ended(0, &["6 rows"]);
    assert!(!folder.names().iter().any(|name| name.contains("unfinished")), "{:?}", folder.names());
}

#[test]
fn a_folder_that_is_not_there_is_told_of_the_table_asked_for() {
    let folder = Folder::new();
    let (study, table) = (study(&folder, "FullGrid"), folder.shell("no/such/t.csv"));
    let left = run(&["study", "run", &study, "--out", &table]);
    left.refused(&[&table, "there is no folder"]);
    assert!(!left.err.contains("unfinished"), "{}", left.err);
}

#[test]
fn a_column_of_too_many_numbers_is_refused_with_how_many_may_be() {
    let folder = Folder::new();
    let study = study(&folder, "FullGrid");
    folder.file("column.csv", format!("v\n{}", "20\n".repeat(1_000_001)));
    let text = fs::read_to_string(&study).unwrap();
    let text = text.replace("List([20.0, 30.0, 40.0])", "Column(file: \"column.csv\", column: \"v\")");
    let study = folder.file("study.ron", text);
    run(&["study", "plan", &study]).refused(&[&study, "column.csv", "more than 1,000,000 numbers"]);
}
