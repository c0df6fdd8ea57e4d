//! Only `src/native` and `main.rs` ask for files, clock, threads or environment: the rest of the viewer
//! takes values and answers with values, and is shown where none of these exists, as in a page of a browser.

#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, reason = "a test fails by panicking")]

use std::path::{Path, PathBuf};

/// Where the crate that reads files is asked: there with bytes, which it does not fetch itself.
const OF_BYTES: [&str; 2] = ["reading", "out"];

/// What of that crate reaches for a disk, for standard input or for the clock.
const FETCHES: [&str; 6] =
    ["Source", "open_table", "cast::read(", "files::lesson(", "files::load", "day::today"];

/// What reaches out of the program, or stands for it.
const REACHES_OUT: [&str; 15] = [
    "std::fs",
    "std::env",
    "std::time",
    "std::thread",
    "std::process",
    "std::net",
    "std::io",
    "SystemTime",
    "Instant::",
    "tempfile",
    "clap",
    "pollster",
    "block_on",
    "files::",
    "native::",
];

fn sources(folder: &Path) -> Vec<PathBuf> {
    let entries = std::fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path());
    entries.flat_map(|path| if path.is_dir() { sources(&path) } else { vec![path] }).collect()
}

#[test]
fn nothing_but_the_native_layer_reaches_out() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    let native = root.join("native");
    let (inside, outside): (Vec<_>, Vec<_>) =
        sources(&root).into_iter().partition(|path| path.starts_with(&native));
    assert!(outside.len() > 50 && inside.len() > 5, "{} and {}", outside.len(), inside.len());
    let mut faults = Vec::new();
    for path in outside.iter().filter(|path| **path != root.join("main.rs")) {
        let text = std::fs::read_to_string(path).unwrap();
        let of_bytes = OF_BYTES.iter().any(|folder| path.starts_with(root.join(folder)));
        let words: Vec<&str> = if of_bytes {
            REACHES_OUT.into_iter().filter(|word| *word != "files::").chain(FETCHES).collect()
        } else {
            REACHES_OUT.to_vec()
        };
        let code = text.lines().enumerate().filter(|(_, line)| !line.trim_start().starts_with("//"));
        for (number, line) in code {
            for word in words.iter().filter(|word| line.contains(**word)) {
                faults.push(format!("{}:{}: {word}", path.display(), number + 1));
            }
        }
    }
    assert!(faults.is_empty(), "{faults:#?}");
    // The search finds what it looks for where that is.
    let reached: String = inside.iter().map(|path| std::fs::read_to_string(path).unwrap()).collect();
    for word in ["std::fs", "std::time", "std::thread", "std::env", "clap", "block_on"] {
        assert!(reached.contains(word), "{word}");
    }
}
