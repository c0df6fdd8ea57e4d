//! A table that is whole: what it says it is of.

use std::fs::File;
use std::path::Path;

use parquet::file::reader::{FileReader as _, SerializedFileReader};

use crate::form::Form;
use crate::journal::Identity;
use crate::part::Part;
use crate::table::key;

/// Whose table a file holds, as a journal says it; nothing where it does not tell.
pub(crate) fn identity(path: &Path) -> Option<String> {
    if Form::of(path).ok()? != Form::Parquet {
        return None;
    }
    let file = SerializedFileReader::new(File::open(path).ok()?).ok()?;
    let key_values = file.metadata().file_metadata().key_value_metadata()?;
    let value = |name: &str| key_values.iter().find(|entry| entry.key == name)?.value.clone();
    let identity = Identity {
        study_sha256: value(key::STUDY_SHA256)?,
        version: value(key::VERSION)?,
        part: value(key::PART).unwrap_or_else(|| Part::WHOLE.to_string()),
        form: Form::Parquet.name(),
    };
    Some(identity.text())
}
