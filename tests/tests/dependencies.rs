//! What is built on comes from the one registry, under licences that let the program be handed on. The list of licences
//! is `deny.toml`'s, which `cargo deny` reads for all systems; here it is what this system builds.

use std::path::Path;
use std::process::Command;

use serde_json::Value;

const REGISTRY: &str = "registry+https://github.com/rust-lang/crates.io-index";

fn workspace() -> &'static Path {
    Path::new(concat!(env!("CARGO_MANIFEST_DIR"), "/.."))
}

/// The licences that are allowed.
fn allowed() -> Vec<String> {
    let text = std::fs::read_to_string(workspace().join("deny.toml")).expect("deny.toml");
    let list = text.split("allow = [").nth(1).and_then(|rest| rest.split(']').next()).expect("a list");
    list.split('"').skip(1).step_by(2).map(str::to_owned).collect()
}

/// Whether an expression of licences (SPDX 2.3, annex D; `/` is how it was written before) can be met by those allowed.
fn met(expression: &str, allowed: &[String]) -> bool {
    let spaced =
        expression.replace('/', " OR ").replace('(', " ( ").replace(')', " ) ").replace(" WITH ", "_WITH_");
    let mut words = spaced.split_whitespace().map(|word| word.replace("_WITH_", " WITH ")).peekable();
    let met = any(&mut words, allowed);
    assert!(words.next().is_none(), "{expression} is no expression of licences");
    met
}

fn any<I: Iterator<Item = String>>(words: &mut std::iter::Peekable<I>, allowed: &[String]) -> bool {
    let mut met = all(words, allowed);
    while words.next_if(|word| word == "OR").is_some() {
        met |= all(words, allowed);
    }
    met
}

fn all<I: Iterator<Item = String>>(words: &mut std::iter::Peekable<I>, allowed: &[String]) -> bool {
    let mut met = one(words, allowed);
    while words.next_if(|word| word == "AND").is_some() {
        met &= one(words, allowed);
    }
    met
}

fn one<I: Iterator<Item = String>>(words: &mut std::iter::Peekable<I>, allowed: &[String]) -> bool {
    let word = words.next().expect("a licence");
    if word != "(" {
        return allowed.contains(&word);
    }
    let met = any(words, allowed);
    assert_eq!(words.next().as_deref(), Some(")"));
    met
}

#[test]
fn expressions_of_licences_are_understood() {
    let allowed = ["MIT", "Apache-2.0 WITH LLVM-exception", "Unicode-3.0"].map(str::to_owned);
    for (expression, is_met) in [
        ("MIT", true),
        ("GPL-2.0-only", false),
        ("Apache-2.0 OR MIT", true),
        ("Apache-2.0/MIT", true),
        ("Apache-2.0", false),
        ("Apache-2.0 WITH LLVM-exception", true),
        ("MIT AND Apache-2.0", false),
        ("(Apache-2.0 OR MIT) AND Unicode-3.0", true),
        ("(MIT OR Apache-2.0) AND OFL-1.1", false),
        // AND binds closer than OR.
        ("MIT OR GPL-2.0-only AND GPL-3.0-only", true),
    ] {
        assert_eq!(met(expression, &allowed), is_met, "{expression}");
    }
}

#[test]
fn every_crate_of_any_system_comes_from_the_registry_or_is_ours() {
    let lock = std::fs::read_to_string(workspace().join("Cargo.lock")).expect("Cargo.lock");
    let mut counted = 0;
    for package in lock.split("[[package]]").skip(1) {
        let field = |name: &str| {
            let line = package.lines().find_map(|line| line.strip_prefix(name)?.strip_prefix(" = "));
            line.map(|value| value.trim_matches('"'))
        };
        let name = field("name").expect("a name");
        match field("source") {
            Some(source) => assert_eq!(source, REGISTRY, "{name}"),
            // What has no source is a folder of the workspace.
            None => assert_eq!(field("version"), Some(env!("CARGO_PKG_VERSION")), "{name}"),
        }
        counted += usize::from(field("checksum").is_some());
    }
    assert!(counted > 300, "{counted} crates with a checksum");
}

#[test]
fn every_crate_that_is_built_here_may_be_handed_on() {
    let host = Command::new(env!("CARGO")).args(["-vV"]).output().expect("cargo");
    let host = String::from_utf8(host.stdout).expect("text");
    let host = host.lines().find_map(|line| line.strip_prefix("host: ")).expect("a host").to_owned();
    let asked = ["metadata", "--format-version", "1", "--locked", "--offline", "--filter-platform", &host];
    let told = Command::new(env!("CARGO")).current_dir(workspace()).args(asked).output().expect("cargo");
    assert!(told.status.success(), "{}", String::from_utf8_lossy(&told.stderr));
    let told: Value = serde_json::from_slice(&told.stdout).expect("JSON");
    let allowed = allowed();
    let packages = told["packages"].as_array().expect("packages");
    assert!(packages.len() > 200, "{}", packages.len());
    for package in packages {
        let licence = package["license"].as_str().unwrap_or_default();
        assert!(!licence.is_empty() && met(licence, &allowed), "{} is under {licence:?}", package["name"]);
    }
}
