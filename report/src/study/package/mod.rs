//! A study's table with its study, described for those who find it in an archive: as a data package (Frictionless Data)
//! and as a research object (RO-Crate 1.1).

mod described;
mod research_object;

use std::path::{Path, PathBuf};

use serde_json::Value;

use super::StudyTable;
use super::origin::TableOrigin;
use super::summary::plan_in_words;

/// Name of the file that describes a data package.
pub const DATA_PACKAGE: &str = "datapackage.json";
/// Name of the file that describes a research object.
pub const RESEARCH_OBJECT: &str = "ro-crate-metadata.json";
/// Name of the study's file in a package.
pub const STUDY: &str = "study.ron";

/// A file of a package, as it stands there.
pub struct PackedFile {
    /// Its name in the package.
    pub name: String,
    /// Its bytes.
    pub bytes: u64,
    /// Of its bytes, in 64 lower-case hexadecimal digits.
    pub sha256: String,
}

/// What a package says of itself besides.
pub struct PackageFacts {
    /// The day on which it was made.
    pub day: String,
    /// Address of the licence of the data, if it was said.
    pub license: Option<String>,
}

/// A package about to be described.
pub struct Package<'t> {
    opened: &'t StudyTable,
    origin: TableOrigin,
    facts: PackageFacts,
    tables: Vec<PackedFile>,
    study: PackedFile,
}

impl<'t> Package<'t> {
    /// Of a table whose files and study were put into a folder.
    pub fn new(
        opened: &'t StudyTable,
        facts: PackageFacts,
        tables: Vec<PackedFile>,
        study: PackedFile,
    ) -> Self {
        Self { opened, origin: TableOrigin::of(opened), facts, tables, study }
    }

    /// [`DATA_PACKAGE`].
    pub fn data_package(&self) -> Value {
        described::object(self)
    }

    /// [`RESEARCH_OBJECT`].
    pub fn research_object(&self) -> Value {
        research_object::object(self)
    }

    fn title(&self) -> &str {
        &self.opened.study.prepared.study().title
    }

    fn description(&self) -> String {
        format!("{}. {}", plan_in_words(self.opened), words::CAUTION)
    }
}

/// The files of a table, in the order of their rows.
pub fn table_files(opened: &StudyTable) -> Vec<PathBuf> {
    opened.table.paths().map(Path::to_owned).collect()
}

/// The study in full, with its scene.
pub fn study_text(opened: &StudyTable) -> String {
    opened.study.prepared.study().to_ron()
}

fn is_csv(name: &str) -> bool {
    name.to_lowercase().ends_with(".csv")
}
