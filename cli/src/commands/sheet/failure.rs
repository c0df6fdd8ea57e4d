//! Why there is no sheet.

use report::sheet::NoGraduation;

use crate::failure::{Failure, Status};

#[derive(Debug, thiserror::Error)]
pub(super) enum SheetFailure {
    #[error("--out {name}: unknown file extension; use .html or .pdf")]
    NoSuchSheet { name: String },
    #[error("--graduation: {0}")]
    Graduation(#[from] NoGraduation),
}

impl Failure for SheetFailure {
    fn status(&self) -> Status {
        Status::Wrong
    }
}
