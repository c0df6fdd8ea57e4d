//! What a build without default features says of what it goes without: `cargo test -p eminentia --no-default-features
//! --test lean`.
#![cfg(not(any(feature = "paper", feature = "photos", feature = "studies")))]

use std::path::Path;

use assert_cmd::Command;

/// What it says, ended by status 2 before any file is made.
fn refused(arguments: &[&str], folder: &Path) -> String {
    let ended = Command::cargo_bin("eminentia")
        .expect("the program")
        .args(arguments)
        .current_dir(folder)
        .assert()
        .code(2)
        .stdout("");
    let left: Vec<_> = std::fs::read_dir(folder).expect("a folder").collect();
    assert!(left.iter().flatten().all(|entry| entry.file_name() == "photo.png"), "{left:?}");
    String::from_utf8_lossy(&ended.get_output().stderr).replace('\n', " ")
}

#[test]
fn the_first_table_is_there() {
    let ended = Command::cargo_bin("eminentia").expect("the program").assert().success();
    assert!(String::from_utf8_lossy(&ended.get_output().stdout).contains("protrusive"));
}

#[test]
fn what_is_left_out_is_named_with_the_way_to_get_it() {
    let folder = tempfile::tempdir().expect("a folder");
    std::fs::write(folder.path().join("photo.png"), b"\x89PNG\r\n\x1a\n").expect("a file");
    let marks = ["--marks", "210,640,980,652", "--apart", "30"];
    let photo = [&["tracing", "photo.png"], &marks[..]].concat();
    let scene = Path::new(env!("CARGO_MANIFEST_DIR")).join("../scenes/thirty_degree.ron");
    let scene = scene.to_str().expect("a path");
    for (arguments, what) in [
        (
            &["study", "run", "some.ron", "--out", "some.parquet"][..],
            "eminentia study: this program was built without studies",
        ),
        (&["excursion", "--plot", "some.pdf"], "--plot some.pdf: this program was built without PDF"),
        (&["excursion", "--plot", "some.png"], "--plot some.png: this program was built without PNG"),
        (&["sheet", scene, "--out", "some.pdf"], "--out some.pdf: this program was built without PDF"),
        (&photo, "photo.png: this program was built without the reading of photos"),
    ] {
        let said = refused(arguments, folder.path());
        assert!(said.contains(what), "{arguments:?}: {said}");
    }
}
