//! Runs of very many samples in little memory.
//!
//! Ten million samples take too long in a debug build. By hand, in a release build:
//! `eminentia excursion SCENE --samples 10000000 --format csv > /dev/null` under `ulimit -v 70000`.

#![cfg(target_os = "linux")]

use crate::helpers::{Folder, Parts, left};

/// A pose is some 250 bytes: held, these would take 62 MB, which with the program's own code (some
/// 30 MB in a debug build) is more than there is.
const SAMPLES: &str = "250000";
/// In kilobytes, the program's own code included.
const MEMORY: u32 = 70_000;

#[test]
fn a_quarter_of_a_million_samples_stream_through_seventy_megabytes_in_every_format() {
    let folder = Folder::new();
    let scene =
        folder.scene(&Parts { cusps: "", excursions: "Protrusive(advance_mm: 6.0)", ..Parts::default() });
    std::thread::scope(|scope| {
        for format in ["table", "csv", "json"] {
            let scene = &scene;
            scope.spawn(move || {
                let line = format!(
                    "ulimit -v {MEMORY}; \"$0\" excursion \"$1\" --samples {SAMPLES} --format {format} | tail -c 200"
                );
                let program = env!("CARGO_BIN_EXE_eminentia");
                let left = left(assert_cmd::Command::new("sh").args(["-c", &line, program, scene]));
                assert_eq!(left.err, "", "{format}");
                let end = match format {
                    "table" => "decide.\n",
                    "csv" => ",,,,,\n",
                    _ => "\"cusps\":[]}]}]}\n",
                };
                assert!(left.out.ends_with(end), "{format}: {}", left.out);
            });
        }
    });
}
