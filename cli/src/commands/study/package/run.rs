//! The package is made beside its place and moved there once it is whole.

use std::fs;
use std::io::{self, Write as _};
use std::path::Path;

use serde_json::Value;

use super::args::StudyPackage as Args;
use super::failure::PackageFailure;
use crate::failure::Outcome;
use crate::say;
use report::study::package::{
    DATA_PACKAGE, Package, PackageFacts, PackedFile, RESEARCH_OBJECT, STUDY, study_text, table_files,
};
use report::study::summary::{Options, StudySummary};
use report::study::{Selection, StudyTable};

/// Makes the folder.
pub(crate) fn perform(args: &Args) -> Outcome {
    let name = || words::quoted::path(&args.out);
    if fs::symlink_metadata(&args.out).is_ok() {
        return Err(PackageFailure::Taken { name: name() }.into());
    }
    let opened = StudyTable::new(&args.tables, args.study.as_deref())?;
    check(&opened)?;
    let above = args.out.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."));
    let unmade = |error| PackageFailure::Folder { name: name(), error };
    let folder = tempfile::Builder::new().prefix(".eminentia-").tempdir_in(above).map_err(unmade)?;
    let mut tables = Vec::new();
    for table in table_files(&opened) {
        tables.push(packed(&table, folder.path())?);
    }
    let text = study_text(&opened);
    put(folder.path(), STUDY, text.as_bytes()).map_err(unmade)?;
    let study = PackedFile {
        name: STUDY.to_owned(),
        bytes: text.len() as u64,
        sha256: files::sha256([text.as_bytes()]),
    };
    let facts = PackageFacts { day: files::day::today(), license: args.license.clone() };
    let package = Package::new(&opened, facts, tables, study);
    for (name, object) in
        [(DATA_PACKAGE, package.data_package()), (RESEARCH_OBJECT, package.research_object())]
    {
        put(folder.path(), name, pretty(&object).as_bytes()).map_err(unmade)?;
    }
    ordinary(folder.path()).map_err(unmade)?;
    fs::rename(folder.path(), &args.out).map_err(unmade)?;
    // It is no longer there to be removed.
    let _ = folder.keep();
    opened.notes.iter().for_each(|note| say::warning(note));
    say::hint(&format_args!("{}: the table, its study, {DATA_PACKAGE} and {RESEARCH_OBJECT}.", name()));
    Ok(())
}

/// That the table is of its study: its first and its last row are computed anew.
fn check(opened: &StudyTable) -> Outcome {
    let selection = Selection::of(opened.study.prepared.columns(), &[], &[])?;
    let first = selection.measures.into_iter().take(1).collect();
    StudySummary::of(opened, &Options { measures: first, resamples: 20, seed: 1 })?;
    Ok(())
}

/// Copies a table into the folder.
fn packed(table: &Path, folder: &Path) -> Outcome<PackedFile> {
    let shown = words::quoted::path(table);
    let unpacked = |error: io::Error| PackageFailure::Unpacked { name: shown.clone(), error };
    let name = table.file_name().unwrap_or(table.as_os_str()).to_string_lossy().into_owned();
    let copy = folder.join(&name);
    if copy.exists() {
        return Err(PackageFailure::SameName { name }.into());
    }
    let bytes = fs::copy(table, &copy).map_err(unpacked)?;
    let sha256 = files::sha256_of_table(&copy).map_err(unpacked)?;
    Ok(PackedFile { name, bytes, sha256 })
}

fn put(folder: &Path, name: &str, bytes: &[u8]) -> io::Result<()> {
    fs::File::create_new(folder.join(name))?.write_all(bytes)
}

fn pretty(object: &Value) -> String {
    // An object of plain values has no way to fail.
    let mut text = serde_json::to_string_pretty(object).unwrap_or_default();
    text.push('\n');
    text
}

/// Temporary folders are private to their owner; this one is to be an ordinary one.
fn ordinary(folder: &Path) -> io::Result<()> {
    #[cfg(unix)]
    fs::set_permissions(folder, <fs::Permissions as std::os::unix::fs::PermissionsExt>::from_mode(0o755))?;
    Ok(())
}
