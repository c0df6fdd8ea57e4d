//! Output that nobody reads any longer, as after `| head`: every command ends as other programs do, without a word.

use std::os::unix::process::ExitStatusExt as _;
use std::process::{Command, Stdio};

use crate::helpers::{Folder, Parts};

/// The number of SIGPIPE on every Unix.
const SIGPIPE: i32 = 13;

/// Runs it with a standard output whose reader has gone.
fn ends_quietly(args: &[&str]) {
    let (reader, writer) = std::io::pipe().unwrap();
    drop(reader);
    let mut command = Command::new(env!("CARGO_BIN_EXE_eminentia"));
    let output = command.args(args).stdout(Stdio::from(writer)).stderr(Stdio::piped()).output().unwrap();
    let err = String::from_utf8(output.stderr).unwrap();
    assert_eq!(output.status.signal(), Some(SIGPIPE), "{args:?}: {:?} {err}", output.status);
    assert!(!err.contains("error") && !err.contains("panicked"), "{args:?}: {err}");
}

#[test]
fn every_command_that_writes_to_a_closed_pipe_ends_quietly() {
    let folder = Folder::new();
    let scene = folder.scene(&Parts::default());
    let study = folder.file(
        "study.ron",
        "(title: \"A check (invented)\", scene: \"scene.ron\", factors: [(setting: \"horizontal_inclination_deg\", \
         values: List([20.0, 30.0]))], plan: FullGrid, record: (measures: [Clearance]))",
    );
    let root = concat!(env!("CARGO_MANIFEST_DIR"), "/..");
    let case = format!("{root}/scenes/cases/dentate.ron");
    let bench = format!("{root}/scenes/cases/bench.ron");
    let remount = format!("{root}/scenes/remounts/processed_denture.ron");
    for args in [
        &["--help"][..],
        &["--version"],
        &[],
        &["excursion", &scene],
        &["excursion", &scene, "--format", "csv"],
        &["excursion", &scene, "--format", "json"],
        &["why", &scene],
        &["program", &case],
        &["bench", &bench],
        &["remount", &remount],
        &["plan", &scene],
        &["compare", &scene, &scene, "--format", "csv"],
        &["baseline", &scene],
        &["settings"],
        &["settings", "--format", "json"],
        &["scene"],
        &["link", &scene],
        &["lesson", "list"],
        &["viva", "--seed", "1"],
        &["completion", "bash"],
        &["manual"],
        &["study", "plan", &study],
        &["study", "run", &study, "--out", "-"],
        &["study", "example"],
        &["study", "example", "inclination"],
        &["study", "published"],
    ] {
        ends_quietly(args);
    }
}
