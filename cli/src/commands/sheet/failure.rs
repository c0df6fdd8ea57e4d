//! Why there is no sheet.

use crate::failure::{Failure, Status};

#[derive(Debug, thiserror::Error)]
pub(super) enum SheetFailure {
    #[error("--out {name}: its ending tells no kind of sheet; give .html or .pdf")]
    NoSuchSheet { name: String },
}

impl Failure for SheetFailure {
    fn status(&self) -> Status {
        Status::Wrong
    }
}
