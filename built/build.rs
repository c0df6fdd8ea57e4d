//! Finds what the crate is built from, for `src/lib.rs` to say: the commit of the sources, and the compiler.
//!
//! Neither git nor its folder is needed. The commit is, in this order: what `EMINENTIA_COMMIT` says; what
//! `git archive` wrote into the file `commit` of a tarball; what the folder `.git` says. A development build has none
//! unless it is told: it is made of whatever stands in the editor, and asking would build everything above this crate
//! anew after each commit.

use std::env;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

/// What the numbers of a table depend on.
const SOURCES: [&str; 5] = ["sim-core/src", "words/src", "files/src", "study-run/src", "Cargo.lock"];

fn main() {
    println!("cargo::rerun-if-changed=build.rs");
    println!("cargo::rerun-if-env-changed=EMINENTIA_COMMIT");
    let given = env::var("EMINENTIA_COMMIT").ok().filter(|commit| !commit.is_empty());
    let is_release = env::var("PROFILE").is_ok_and(|profile| profile == "release");
    let commit = given.or_else(|| if is_release { of_sources() } else { None });
    let told = commit.clone().unwrap_or_else(|| "not recorded".to_owned());
    println!("cargo::rustc-env=EMINENTIA_COMMIT_TOLD={told}");
    println!("cargo::rustc-env=EMINENTIA_BUILT_FROM={}", commit.unwrap_or_default());
    println!("cargo::rustc-env=EMINENTIA_BUILT_FOR={}", env::var("TARGET").unwrap_or_default());
    println!("cargo::rustc-env=EMINENTIA_BUILT_BY={}", compiler().unwrap_or_default());
}

fn compiler() -> Option<String> {
    let said = Command::new(env::var("RUSTC").ok()?).arg("--version").output().ok()?;
    Some(String::from_utf8(said.stdout).ok()?.trim().to_owned())
}

fn of_sources() -> Option<String> {
    let root = PathBuf::from(env::var("CARGO_MANIFEST_DIR").ok()?).parent()?.to_owned();
    let archived = watched(&root.join("commit")).filter(|text| is_commit(text.trim()));
    if let Some(archived) = archived {
        return Some(archived.trim().to_owned());
    }
    let commit = of_git(&root)?;
    for source in SOURCES {
        println!("cargo::rerun-if-changed={}", root.join(source).display());
    }
    let mut git = Command::new("git");
    let changes = git.args(["status", "--porcelain", "--untracked-files=no"]).current_dir(&root).output();
    Some(match changes {
        Ok(changes) if changes.status.success() && changes.stdout.is_empty() => commit,
        Ok(changes) if changes.status.success() => format!("{commit}, changed since"),
        _ => format!("{commit}, perhaps changed since"),
    })
}

/// The commit that is checked out, as the files of git's folder say.
fn of_git(root: &Path) -> Option<String> {
    let folder = root.join(".git");
    let folder = if folder.is_dir() {
        folder
    } else {
        // A work tree beside its repository.
        root.join(fs::read_to_string(folder).ok()?.trim().strip_prefix("gitdir: ")?)
    };
    let head = watched(&folder.join("HEAD"))?;
    let Some(name) = head.trim().strip_prefix("ref: ") else { return Some(head.trim().to_owned()) };
    let common =
        fs::read_to_string(folder.join("commondir")).map_or(folder.clone(), |path| folder.join(path.trim()));
    let loose = watched(&common.join(name)).map(|commit| commit.trim().to_owned());
    let packed = || {
        let packed = watched(&common.join("packed-refs"))?;
        let line = packed.lines().find(|line| line.ends_with(&format!(" {name}")))?;
        Some(line.split(' ').next()?.to_owned())
    };
    loose.or_else(packed).filter(|commit| is_commit(commit))
}

/// What a file says; where it is there, the script runs again when it changes. One that is not there would run it
/// every time.
fn watched(path: &Path) -> Option<String> {
    let text = fs::read_to_string(path).ok()?;
    println!("cargo::rerun-if-changed={}", path.display());
    Some(text)
}

fn is_commit(text: &str) -> bool {
    text.len() >= 40 && text.chars().all(|letter| letter.is_ascii_hexdigit())
}
