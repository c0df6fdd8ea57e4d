//! The modules of a crate stand on floors: none leads, by whatever way, back to itself.
//!
//! Looked for among the paths of every library and program of the workspace: imports, paths in code,
//! in macros and in the attributes of serde, each followed to the file that defines its end. That holds
//! on two levels: among files, and among the modules of one parent, each with all that stands in it.
//! A module that passes on what its children define does not lean on them for that; tests do not count.
//! A method called names no module, so a circle made by calls of methods alone is not seen.

mod arrows;
mod circles;
mod invented;
mod mentions;
mod sources;

use std::path::{Path, PathBuf};
use std::process::Command;

use sources::Sources;

/// Kinds of target whose modules are looked at.
const KINDS: [&str; 5] = ["lib", "rlib", "cdylib", "proc-macro", "bin"];

/// Name and root file of every library and program of the workspace.
fn targets() -> Vec<(String, PathBuf)> {
    let manifest = concat!(env!("CARGO_MANIFEST_DIR"), "/../Cargo.toml");
    let output = Command::new(env!("CARGO"))
        .args(["metadata", "--no-deps", "--offline", "--format-version", "1", "--manifest-path", manifest])
        .output()
        .expect("cargo runs");
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    let metadata: serde_json::Value = serde_json::from_slice(&output.stdout).expect("JSON");
    let mut targets = Vec::new();
    for package in metadata["packages"].as_array().expect("packages") {
        let name = package["name"].as_str().expect("a name");
        for target in package["targets"].as_array().expect("targets") {
            let mut kinds = target["kind"].as_array().expect("kinds").iter();
            if kinds.any(|kind| KINDS.iter().any(|wanted| kind == wanted)) {
                let root = target["src_path"].as_str().expect("a root file");
                targets.push((name.to_owned(), PathBuf::from(root)));
            }
        }
    }
    targets
}

fn text_of(path: &Path) -> Option<String> {
    std::fs::read_to_string(path).ok()
}

#[test]
fn no_crate_of_the_workspace_has_a_circle() {
    let workspace = Path::new(env!("CARGO_MANIFEST_DIR")).parent().expect("a folder");
    let mut wrong = Vec::new();
    let targets = targets();
    assert!(targets.iter().any(|(name, _)| name == "sim-core"), "the workspace has {targets:?}");
    for (name, root) in targets {
        let circles = circles::circles(&Sources::read(&root, &text_of));
        wrong.extend(circles.into_iter().map(|circle| format!("{name}: {circle}")));
    }
    let folder = format!("{}/", workspace.display());
    assert!(wrong.is_empty(), "\n{}\n", wrong.join("\n").replace(&folder, ""));
}
