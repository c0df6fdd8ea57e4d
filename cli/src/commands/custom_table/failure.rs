//! Why there is no table.

use sim_core::occlusion::{NoTable, TableSize};

use crate::failure::{Failure, Status};

#[derive(Debug, thiserror::Error)]
pub(super) enum CustomTableFailure {
    #[error("{}{error}", place(.name, .error))]
    NoTable { name: String, error: NoTable },
}

/// Where the fault is: in an option, or in the scene.
fn place(name: &str, error: &NoTable) -> String {
    let option = match error {
        NoTable::TooFine { .. } => "--step",
        NoTable::Size { what, .. } => match what {
            TableSize::Advance => "--to",
            TableSize::Step => "--step",
            TableSize::Margin => "--margin",
            TableSize::TipRadius => "--tip-radius",
            TableSize::Thickness => "--thickness",
        },
        _ => name,
    };
    format!("{option}: ")
}

impl Failure for CustomTableFailure {
    fn status(&self) -> Status {
        match self {
            Self::NoTable { error: NoTable::Size { .. } | NoTable::TooFine { .. }, .. } => Status::Wrong,
            Self::NoTable { .. } => Status::Failed,
        }
    }
}
