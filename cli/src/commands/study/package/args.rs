//! What `eminentia study package` takes.

use std::path::PathBuf;

use clap::Args;

#[derive(Args)]
pub(crate) struct StudyPackage {
    /// Table of a study (Parquet or CSV), or all the parts of one
    #[arg(value_name = "TABLE", required = true)]
    pub(crate) tables: Vec<PathBuf>,
    /// The study's file (RON): needed for a CSV, checked against a Parquet
    #[arg(long, value_name = "FILE")]
    pub(crate) study: Option<PathBuf>,
    /// Folder to make: the table's files, the study, datapackage.json (Frictionless Data) and
    /// ro-crate-metadata.json (RO-Crate 1.1)
    #[arg(long, value_name = "FOLDER")]
    pub(crate) out: PathBuf,
    /// Address of the licence of the data, as `https://creativecommons.org/licenses/by/4.0/` [default: none is said]
    #[arg(long, value_name = "ADDRESS", value_parser = address)]
    pub(crate) license: Option<String>,
}

fn address(given: &str) -> Result<String, String> {
    let plain = given.starts_with("https://") || given.starts_with("http://");
    if plain && !given.contains(char::is_whitespace) {
        Ok(given.to_owned())
    } else {
        Err("an address beginning with https:// is needed".to_owned())
    }
}
