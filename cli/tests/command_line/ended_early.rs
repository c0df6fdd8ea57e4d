//! What a signal that ends the program leaves behind.

use std::process::{Command, Stdio};
use std::time::Duration;

use crate::helpers::Folder;

/// Looked for a hundred times a second, for a minute at the most.
const LOOKS: u32 = 6000;

#[test]
fn a_signal_takes_what_is_not_whole_away() {
    for signal in ["-INT", "-TERM", "-HUP"] {
        let folder = Folder::new();
        let old = folder.file("rows.csv", "the old file");
        let mut child = Command::new(env!("CARGO_BIN_EXE_eminentia"))
            .args(["excursion", "--format", "csv", "--samples", "10000000", "--out", &old])
            .stderr(Stdio::null())
            .spawn()
            .unwrap();
        let is_begun = || folder.names().iter().any(|name| name.starts_with(".eminentia-"));
        for _ in 0..LOOKS {
            if is_begun() {
                break;
            }
            std::thread::sleep(Duration::from_millis(10));
        }
        assert!(is_begun(), "a file is begun");
        assert!(Command::new("kill").args([signal, &child.id().to_string()]).status().unwrap().success());
        assert!(!child.wait().unwrap().success());
        assert_eq!(folder.names(), ["rows.csv"], "{signal}");
        assert_eq!(std::fs::read_to_string(&old).unwrap(), "the old file");
    }
}
