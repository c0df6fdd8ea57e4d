//! The map is true: what README, DEVELOPERS.md and docs/ say stands somewhere stands there.

use std::fs;
use std::path::{Path, PathBuf};

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("..")
}

/// Pages that people find their way by.
fn pages() -> Vec<PathBuf> {
    let mut pages: Vec<PathBuf> =
        ["README.md", "DEVELOPERS.md", "python/README.md"].map(|page| root().join(page)).into();
    let docs = fs::read_dir(root().join("docs")).expect("docs");
    pages.extend(
        docs.map(|entry| entry.expect("an entry").path())
            .filter(|path| path.extension().is_some_and(|ending| ending == "md")),
    );
    assert!(pages.len() > 8, "{} pages", pages.len());
    pages
}

/// What stands between two marks of a text, for each pair of them.
fn between<'t>(text: &'t str, open: &'t str, close: &'t str) -> impl Iterator<Item = &'t str> {
    text.split(open).skip(1).filter_map(move |rest| rest.split_once(close).map(|(inside, _)| inside))
}

/// Whether a span of code names a place of the repository rather than a command, a type or a file that a
/// person is to write.
fn is_place(span: &str) -> bool {
    const KEPT: [&str; 7] = [".rs", ".py", ".md", ".toml", ".ron", ".txt", ".pyi"];
    let plain = span.bytes().all(|letter| letter.is_ascii_alphanumeric() || b"_-./".contains(&letter));
    plain && span.contains('/') && (span.ends_with('/') || KEPT.iter().any(|ending| span.ends_with(ending)))
}

/// Folders that a page leaves out where it is clear which is meant.
const LEFT_OUT: [&str; 5] = ["", "sim-core/src", "python", "python/package", "docs"];

#[test]
fn places_named_in_the_pages_are_there() {
    let mut looked_at = 0;
    let mut missing = Vec::new();
    for page in pages() {
        let text = fs::read_to_string(&page).expect("a page");
        let prose: String = text.split("```").step_by(2).collect();
        for span in prose.split('`').skip(1).step_by(2).filter(|span| is_place(span)) {
            looked_at += 1;
            let is_there = LEFT_OUT.iter().any(|folder| root().join(folder).join(span).exists());
            if !is_there {
                missing.push(format!("{}: `{span}`", page.display()));
            }
        }
    }
    assert!(looked_at > 40, "{looked_at} places");
    assert!(missing.is_empty(), "\n{}\n", missing.join("\n"));
}

#[test]
fn links_lead_somewhere() {
    let mut looked_at = 0;
    let mut broken = Vec::new();
    for page in pages() {
        let text = fs::read_to_string(&page).expect("a page");
        for link in between(&text, "](", ")").filter(|link| !link.contains("://")) {
            looked_at += 1;
            let file = link.split('#').next().unwrap_or(link);
            let folder = page.parent().expect("a folder");
            if !file.is_empty() && !folder.join(file).exists() {
                broken.push(format!("{}: {link}", page.display()));
            }
        }
    }
    assert!(looked_at > 25, "{looked_at} links");
    assert!(broken.is_empty(), "\n{}\n", broken.join("\n"));
}

#[test]
fn every_crate_of_the_workspace_is_on_the_map() {
    let manifest = fs::read_to_string(root().join("Cargo.toml")).expect("the workspace");
    let members =
        between(&manifest, "members = [", "]").next().expect("members").replace(['"', ' ', '\n'], "");
    let map = fs::read_to_string(root().join("DEVELOPERS.md")).expect("the map");
    for member in members.split(',').filter(|member| !member.is_empty()) {
        assert!(map.contains(&format!("| `{member}/")), "{member} is not in the table of DEVELOPERS.md");
    }
}
