//! Why there is no sheet.

use crate::failure::{Failure, Status};

#[derive(Debug, thiserror::Error)]
pub(super) enum SheetFailure {
    #[error("--out {name}: unknown file extension; use .html or .pdf")]
    NoSuchSheet { name: String },
}

impl Failure for SheetFailure {
    fn status(&self) -> Status {
        Status::Wrong
    }
}
