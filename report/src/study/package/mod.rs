//! A study's table with its study, described for those who find it in an archive: as a data package (Frictionless Data)
//! and as a research object (RO-Crate 1.1).

mod described;
mod packed;
mod research_object;

use std::path::{Path, PathBuf};

use serde_json::Value;

pub use self::packed::{Package, PackageFacts, PackedFile, RESEARCH_OBJECT};
use super::StudyTable;

/// Name of the file that describes a data package.
pub const DATA_PACKAGE: &str = "datapackage.json";
/// Name of the study's file in a package.
pub const STUDY: &str = "study.ron";

impl Package<'_> {
    /// [`DATA_PACKAGE`].
    pub fn data_package(&self) -> Value {
        described::object(self)
    }

    /// [`RESEARCH_OBJECT`].
    pub fn research_object(&self) -> Value {
        research_object::object(self)
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
