//! `--out`, full disks and closed pipes.

use std::fs;

use crate::helpers::{Folder, Parts, run};

#[test]
fn a_file_gets_what_standard_output_would() {
    let folder = Folder::new();
    let scene = folder.scene(&Parts::default());
    for format in ["table", "csv", "json"] {
        let out = folder.shell("out");
        let left = run(&["excursion", &scene, "--format", format, "--out", &out]);
        assert_eq!((left.status, left.out.as_str()), (0, ""), "{}", left.err);
        assert_eq!(fs::read_to_string(&out).unwrap(), run(&["excursion", &scene, "--format", format]).out);
    }
    assert_eq!(folder.names(), ["out", "scene.ron"]);
}

#[test]
fn the_scene_is_not_written_over() {
    let folder = Folder::new();
    let scene = folder.scene(&Parts::default());
    fs::create_dir(folder.path("sub")).unwrap();
    let crooked = folder.shell("sub/../scene.ron");
    for out in [&scene, &crooked] {
        for command in [vec!["excursion", &scene], vec!["baseline", &scene], vec!["compare", &scene, &scene]]
        {
            let left = run(&[&command[..], &["--out", out]].concat());
            assert_eq!(left.status, 2, "{}", left.err);
            assert!(left.err.contains("is the scene that is read"), "{}", left.err);
        }
    }
    assert_eq!(fs::read_to_string(&scene).unwrap(), Parts::default().text());
}

#[test]
fn an_output_that_cannot_be_opened_is_a_wrong_command_line() {
    let folder = Folder::new();
    let scene = folder.scene(&Parts::default());
    let into_folder = run(&["excursion", &scene, "--out", &folder.shell("")]);
    assert_eq!(into_folder.status, 2);
    assert!(into_folder.err.contains("is a folder"), "{}", into_folder.err);
    let nowhere = run(&["excursion", &scene, "--out", &folder.shell("no/such/out.csv")]);
    assert_eq!(nowhere.status, 2);
    assert!(nowhere.err.contains("out.csv: cannot be written"), "{}", nowhere.err);
}

#[test]
fn a_dash_is_standard_output() {
    let folder = Folder::new();
    let scene = folder.scene(&Parts::default());
    let left = run(&["excursion", &scene, "--out", "-"]);
    assert_eq!(left.out, run(&["excursion", &scene]).out);
    assert!(!std::path::Path::new("-").exists());
}

#[cfg(unix)]
mod on_unix {
    use std::fs;
    use std::io::Read as _;
    use std::os::unix::fs::{PermissionsExt as _, symlink};
    use std::os::unix::process::ExitStatusExt as _;
    use std::process::{Command, Stdio};

    use crate::helpers::{Folder, Parts, left, run};

    const PROGRAM: &str = env!("CARGO_BIN_EXE_eminentia");
    /// The number of SIGPIPE on every Unix.
    const SIGPIPE: i32 = 13;

    /// Runs a line of shell in which `$0` is the program.
    fn shell(line: &str, scene: &str) -> crate::helpers::Left {
        left(assert_cmd::Command::new("sh").args(["-c", line, PROGRAM, scene]))
    }

    #[test]
    fn a_link_stays_a_link_and_permissions_stay_as_they_were() {
        let folder = Folder::new();
        let scene = folder.scene(&Parts::default());
        let real = folder.file("real.csv", "old");
        fs::set_permissions(&real, fs::Permissions::from_mode(0o640)).unwrap();
        symlink(&real, folder.path("link.csv")).unwrap();
        let left = run(&["excursion", &scene, "--format", "csv", "--out", &folder.shell("link.csv")]);
        assert_eq!(left.status, 0, "{}", left.err);
        assert!(fs::symlink_metadata(folder.path("link.csv")).unwrap().is_symlink());
        assert!(fs::read_to_string(&real).unwrap().contains("\nexcursion,"));
        assert_eq!(fs::metadata(&real).unwrap().permissions().mode() & 0o777, 0o640);
    }

    #[test]
    fn the_old_file_outlives_a_write_that_fails() {
        let folder = Folder::new();
        let scene = folder.scene(&Parts { samples: "20000", ..Parts::default() });
        let out = folder.file("out.csv", "old");
        // Files of this shell may not grow past 100 blocks of 512 bytes; the signal that the
        // system sends by default is ignored, so that the write fails instead.
        let line = format!("trap '' XFSZ; ulimit -f 100; \"$0\" excursion \"$1\" --format csv --out {out}");
        let left = shell(&line, &scene);
        assert_eq!(left.status, 1, "{}", left.err);
        assert!(left.err.contains("out.csv") && left.err.contains("old file is as it was"), "{}", left.err);
        assert_eq!(fs::read_to_string(&out).unwrap(), "old");
        assert_eq!(folder.names(), ["out.csv", "scene.ron"]);
    }

    #[cfg(target_os = "linux")]
    #[test]
    fn a_full_disk_is_told_and_is_a_failure() {
        let folder = Folder::new();
        let scene = folder.scene(&Parts::default());
        for format in ["table", "csv", "json"] {
            let written = run(&["excursion", &scene, "--format", format, "--out", "/dev/full"]);
            let printed = shell(&format!("\"$0\" excursion \"$1\" --format {format} > /dev/full"), &scene);
            for (left, name) in [(written, "/dev/full"), (printed, "standard output")] {
                assert_eq!(left.status, 1, "{}", left.err);
                assert!(left.err.contains(name) && left.err.contains("No space left"), "{}", left.err);
            }
        }
        for command in ["--help", "settings", "scene", "manual", "baseline", "'completion' bash"] {
            let left = shell(&format!("\"$0\" {command} > /dev/full"), &scene);
            assert_eq!(left.status, 1, "{command}: {}", left.err);
            assert!(left.err.contains("No space left"), "{command}: {}", left.err);
        }
    }

    #[test]
    fn a_standard_error_that_takes_nothing_is_borne() {
        let folder = Folder::new();
        let scene = folder.scene(&Parts::default());
        assert_eq!(shell("\"$0\" 2> /dev/full", &scene).status, 0);
        assert_eq!(shell("\"$0\" excursion no-such 2> /dev/full", &scene).status, 2);
        assert_eq!(shell("\"$0\" excursion --no-such 2> /dev/full", &scene).status, 2);
    }

    #[test]
    fn a_pipe_closed_in_the_middle_ends_the_program_as_it_does_others() {
        let folder = Folder::new();
        let scene = folder.scene(&Parts { samples: "100000", ..Parts::default() });
        for format in ["csv", "json"] {
            let mut child = Command::new(PROGRAM)
                .args(["excursion", &scene, "--format", format])
                .stdout(Stdio::piped())
                .stderr(Stdio::piped())
                .spawn()
                .unwrap();
            let mut pipe = child.stdout.take().unwrap();
            pipe.read_exact(&mut [0; 100]).unwrap();
            drop(pipe);
            let output = child.wait_with_output().unwrap();
            let err = String::from_utf8(output.stderr).unwrap();
            assert_eq!(output.status.signal(), Some(SIGPIPE), "{err}");
            assert_eq!(err, "");
        }
    }

    #[test]
    fn standard_output_by_its_device_is_appended_to_and_not_replaced() {
        let folder = Folder::new();
        let scene = folder.scene(&Parts::default());
        let log = folder.file("log", "old\n");
        let line = format!("\"$0\" excursion \"$1\" --format csv --out /dev/stdout >> {log}");
        assert_eq!(shell(&line, &scene).status, 0);
        assert!(fs::read_to_string(&log).unwrap().starts_with("old\n# "));
    }

    #[test]
    fn a_named_pipe_is_written_straight() {
        let folder = Folder::new();
        let scene = folder.scene(&Parts::default());
        let line = format!(
            "mkfifo {0}; cat {0} & \"$0\" excursion \"$1\" --format csv --out {0}; wait",
            folder.shell("pipe")
        );
        let left = shell(&line, &scene);
        assert!(left.out.starts_with("# ") && left.out.contains("\nexcursion,"), "{}", left.err);
        assert_eq!(folder.names(), ["pipe", "scene.ron"]);
    }
}
