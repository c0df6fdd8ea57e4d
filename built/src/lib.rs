//! What this program was built from, which a number can be traced back to.

/// Version of the crate, which stands in every table.
pub const VERSION: &str = env!("CARGO_PKG_VERSION");

/// The commit of the sources, with a word where they were changed since; none of a development build, which is made of
/// whatever stood in the editor.
pub const COMMIT: Option<&str> = {
    let commit = env!("EMINENTIA_BUILT_FROM");
    if commit.is_empty() { None } else { Some(commit) }
};

/// How it was built: `release`, or `development`.
pub const BUILD: &str = if cfg!(debug_assertions) { "development" } else { "release" };

/// What it was built for, as compilers name it: processor, maker, system.
pub const PLATFORM: &str = env!("EMINENTIA_BUILT_FOR");

/// The compiler.
pub const COMPILER: &str = env!("EMINENTIA_BUILT_BY");

/// Version, commit and build in a line: `0.1.0, commit 66f4…, release build`.
#[must_use]
pub fn in_a_line(version: &str, commit: Option<&str>, build: Option<&str>) -> String {
    let commit = commit.map_or_else(String::new, |commit| format!(", commit {commit}"));
    let build = build.map_or_else(String::new, |build| format!(", {build} build"));
    format!("{version}{commit}{build}")
}

/// What a long `--version` says.
#[cfg(debug_assertions)]
pub const TOLD: &str = concat!(
    env!("CARGO_PKG_VERSION"),
    "\ncommit: ",
    env!("EMINENTIA_COMMIT_TOLD"),
    "\ndevelopment build for ",
    env!("EMINENTIA_BUILT_FOR"),
    " by ",
    env!("EMINENTIA_BUILT_BY")
);

/// What a long `--version` says.
#[cfg(not(debug_assertions))]
pub const TOLD: &str = concat!(
    env!("CARGO_PKG_VERSION"),
    "\ncommit: ",
    env!("EMINENTIA_COMMIT_TOLD"),
    "\nrelease build for ",
    env!("EMINENTIA_BUILT_FOR"),
    " by ",
    env!("EMINENTIA_BUILT_BY")
);

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_build_says_its_version_and_what_it_knows_of_its_sources() {
        assert_eq!(in_a_line("1.2.3", None, None), "1.2.3");
        assert_eq!(in_a_line("1.2.3", Some("abc"), Some("release")), "1.2.3, commit abc, release build");
        assert!(
            TOLD.starts_with(VERSION)
                && TOLD.contains("\ncommit: ")
                && TOLD.contains(BUILD)
                && !PLATFORM.is_empty()
        );
        assert!(COMPILER.starts_with("rustc "), "{COMPILER}");
    }
}
