//! What is in a package.

use super::super::StudyTable;
use super::super::origin::TableOrigin;
use super::super::summary::plan_in_words;

/// Name of the file that describes a research object.
pub const RESEARCH_OBJECT: &str = "ro-crate-metadata.json";

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
    pub(super) opened: &'t StudyTable,
    pub(super) origin: TableOrigin,
    pub(super) facts: PackageFacts,
    pub(super) tables: Vec<PackedFile>,
    pub(super) study: PackedFile,
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

    pub(super) fn title(&self) -> &str {
        &self.opened.study.prepared.study().title
    }

    pub(super) fn description(&self) -> String {
        format!("{}. {}", plan_in_words(self.opened), words::CAUTION)
    }
}

pub(super) fn is_csv(name: &str) -> bool {
    name.to_lowercase().ends_with(".csv")
}
