//! What is drawn for the bench, and written beside a case.

use std::fs::OpenOptions;
use std::hash::{BuildHasher as _, Hasher as _, RandomState};
use std::io::{ErrorKind, Write as _};
use std::path::{Path, PathBuf};

use report::sheet::{Kind, Paper};
use report::template::Template;
use sim_core::tracing::TracingSetup;

use crate::bench::OnBench;
use crate::out;
use crate::teaching::VIVA_SEEDS;

/// A seed that nobody can guess: the standard library keys its hashes from the system's randomness.
pub(super) fn drawn_seed() -> u64 {
    RandomState::new().build_hasher().finish()
}

/// A seed for a viva, small enough to be read aloud.
pub(super) fn drawn_viva_seed() -> u64 {
    drawn_seed() % VIVA_SEEDS
}

/// Writes the sheet of a case beside it, or where the program was started, under a name that is free.
///
/// # Errors
/// What went wrong, in words.
pub(super) fn write_sheet(bench: &OnBench, kind: Kind) -> Result<PathBuf, String> {
    let bytes = out::sheet(bench, kind, &::files::day::today())?;
    write_beside(bench.file.as_deref(), "sheet", kind.ending(), &bytes)
}

/// Writes the template of a drawn tracing in its own size, as [`write_sheet`] writes.
///
/// # Errors
/// What went wrong, in words.
pub(super) fn write_template(
    setup: &TracingSetup,
    title: &str,
    beside: Option<&Path>,
) -> Result<PathBuf, String> {
    let bytes = Template::of_setup(title, setup).pdf(Paper::A4).map_err(|error| error.to_string())?;
    write_beside(beside, "template", "pdf", &bytes)
}

/// Writes a file beside another one, named after it, and never over one that is there.
///
/// # Errors
/// What the system says, with the name of the file.
pub(super) fn write_beside(
    beside: Option<&Path>,
    what: &str,
    ending: &str,
    bytes: &[u8],
) -> Result<PathBuf, String> {
    /// More files of one name than anybody keeps.
    const MOST: u32 = 1000;
    let folder = beside.and_then(Path::parent).map_or_else(PathBuf::new, Path::to_owned);
    for number in 1..=MOST {
        let path = folder.join(out::name_beside(beside, what, number, ending));
        let opened = OpenOptions::new().write(true).create_new(true).open(&path);
        let mut file = match opened {
            Ok(file) => file,
            Err(error) if error.kind() == ErrorKind::AlreadyExists => continue,
            Err(error) => return Err(format!("{}: cannot be written: {error}", words::quoted::path(&path))),
        };
        file.write_all(bytes)
            .map_err(|error| format!("{}: cannot be written: {error}", words::quoted::path(&path)))?;
        return Ok(path);
    }
    Err(format!("{}: there are {MOST} files of this name already", words::quoted::path(&folder)))
}

#[cfg(test)]
mod tests {
    use report::case::WorkedCase;
    use sim_core::record::Case;

    use super::*;

    const DENTATE: &str = include_str!("../../../scenes/cases/dentate.ron");

    #[test]
    fn a_sheet_is_written_beside_its_case_and_over_nothing() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("mine.ron");
        let case = Case::from_ron(DENTATE).unwrap();
        let worked = WorkedCase::of(case, path.display().to_string(), DENTATE.to_owned()).unwrap();
        let bench = |path: &Path| OnBench::of_case(worked.clone(), Some(path.to_owned()));
        let first = write_sheet(&bench(&path), Kind::Html).unwrap();
        let second = write_sheet(&bench(&path), Kind::Html).unwrap();
        assert_eq!(
            (first.file_name().unwrap(), second.file_name().unwrap()),
            ("mine-sheet.html".as_ref(), "mine-sheet-2.html".as_ref())
        );
        assert!(std::fs::read_to_string(first).unwrap().contains("Dentate case (invented)"));
        let pdf = write_sheet(&bench(&path), Kind::Pdf).unwrap();
        assert!(std::fs::read(pdf).unwrap().starts_with(b"%PDF"));
        let said = write_sheet(&bench(Path::new("/no such folder/a.ron")), Kind::Pdf).unwrap_err();
        assert!(said.contains("/no such folder/a-sheet.pdf"), "{said}");
    }

    #[test]
    fn two_seeds_drawn_are_not_the_same() {
        assert_ne!(drawn_seed(), drawn_seed());
    }
}
