//! Why a package is not made.

use std::io;

use crate::failure::{Failure, Status};

#[derive(Debug, thiserror::Error)]
pub(super) enum PackageFailure {
    #[error("--out {name}: is there already; a package is made in a folder of its own")]
    Taken { name: String },
    #[error("--out {name}: cannot be made: {error}")]
    Folder { name: String, error: io::Error },
    #[error("{name}: cannot be put into the package: {error}")]
    Unpacked { name: String, error: io::Error },
    #[error("{name}: two tables of that name cannot stand in one folder; rename one")]
    SameName { name: String },
}

impl Failure for PackageFailure {
    fn status(&self) -> Status {
        match self {
            Self::Folder { .. } | Self::Unpacked { .. } => Status::Failed,
            Self::Taken { .. } | Self::SameName { .. } => Status::Wrong,
        }
    }
}
