//! Reading a case, and what is dealt or written for the bench.

use std::fs::OpenOptions;
use std::hash::{BuildHasher as _, Hasher as _, RandomState};
use std::io::{ErrorKind, Write as _};
use std::path::{Path, PathBuf};

use files::Source;
use report::case::WorkedCase;
use report::sheet::{Beside, Kind, Paper, Sheet, SheetOptions};
use report::template::Template;
use sim_core::record::Case;
use sim_core::text;
use sim_core::tracing::TracingSetup;

use super::error::FileError;

/// A case worked through that was read from this text.
///
/// # Errors
/// [`FileError::Case`] with the place of the field at fault.
pub(super) fn worked(case: Case, name: &str, text: &str) -> Result<WorkedCase, FileError> {
    WorkedCase::of(case, name.to_owned(), text.to_owned()).map_err(|source| {
        let (line, column) = text::place_of(source.field(), text.trim_start_matches('\u{feff}'));
        FileError::Case { file: name.to_owned(), line, column, source: Box::new(source) }
    })
}

/// Reads a case from a file.
///
/// # Errors
/// [`FileError`] with the place in the file.
pub fn read(path: &Path) -> Result<WorkedCase, FileError> {
    let source = Source::File(path.to_owned());
    let text = source.text::<Case>().map_err(FileError::Text)?;
    let case = files::from_text(&text, &source.name()).map_err(FileError::Text)?;
    worked(case, &source.name(), &text)
}

/// A seed that nobody can guess: the standard library keys its hashes from the system's randomness.
pub(super) fn drawn_seed() -> u64 {
    RandomState::new().build_hasher().finish()
}

/// Writes the sheet of a case beside it, or where the program was started, under a name that is free.
///
/// # Errors
/// What went wrong, in words.
pub(super) fn write_sheet(worked: &WorkedCase, beside: Option<&Path>, kind: Kind) -> Result<PathBuf, String> {
    let options = SheetOptions { day: ::files::day::today(), ..SheetOptions::default() };
    let sheet = Sheet::of(worked, &options, Beside::default());
    let bytes = kind.bytes(&sheet, Paper::A4).map_err(|error| error.to_string())?;
    let ending = match kind {
        Kind::Html => "html",
        Kind::Pdf => "pdf",
    };
    write_beside(beside, "sheet", ending, &bytes)
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
    let stem =
        beside.and_then(Path::file_stem).map_or_else(|| "eminentia".into(), |stem| stem.to_string_lossy());
    for number in 1..=MOST {
        let numbered = if number == 1 { String::new() } else { format!("-{number}") };
        let path = folder.join(format!("{stem}-{what}{numbered}.{ending}"));
        let opened = OpenOptions::new().write(true).create_new(true).open(&path);
        let mut file = match opened {
            Ok(file) => file,
            Err(error) if error.kind() == ErrorKind::AlreadyExists => continue,
            Err(error) => return Err(format!("{}: cannot be written: {error}", path.display())),
        };
        file.write_all(bytes).map_err(|error| format!("{}: cannot be written: {error}", path.display()))?;
        return Ok(path);
    }
    Err(format!("{}: there are {MOST} files of this name already", folder.display()))
}

#[cfg(test)]
mod tests {
    use super::*;

    const DENTATE: &str = include_str!("../../../scenes/cases/dentate.ron");

    #[test]
    fn a_case_that_cannot_be_worked_through_is_refused_with_its_line() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("mine.ron");
        // The axis points fall together.
        let wrong =
            DENTATE.replace("left_axis_mm: (-41.792, -34.958, 32.968)", "left_axis_mm: (69.0, -89.0, 33.0)");
        assert_ne!(wrong, DENTATE);
        std::fs::write(&path, &wrong).unwrap();
        let said = read(&path).unwrap_err().to_string();
        let line = wrong.lines().position(|line| line.contains("mounting")).unwrap() + 1;
        assert!(said.contains(&format!("mine.ron:{line}:")), "{said}");
    }

    #[test]
    fn a_sheet_is_written_beside_its_case_and_over_nothing() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("mine.ron");
        std::fs::write(&path, DENTATE).unwrap();
        let case = read(&path).unwrap();
        let first = write_sheet(&case, Some(&path), Kind::Html).unwrap();
        let second = write_sheet(&case, Some(&path), Kind::Html).unwrap();
        assert_eq!(
            (first.file_name().unwrap(), second.file_name().unwrap()),
            ("mine-sheet.html".as_ref(), "mine-sheet-2.html".as_ref())
        );
        assert!(std::fs::read_to_string(first).unwrap().contains("Dentate case (invented)"));
        let pdf = write_sheet(&case, Some(&path), Kind::Pdf).unwrap();
        assert!(std::fs::read(pdf).unwrap().starts_with(b"%PDF"));
        let said = write_sheet(&case, Some(Path::new("/no such folder/a.ron")), Kind::Pdf).unwrap_err();
        assert!(said.contains("/no such folder/a-sheet.pdf"), "{said}");
    }

    #[test]
    fn two_seeds_drawn_are_not_the_same() {
        assert_ne!(drawn_seed(), drawn_seed());
    }
}
