//! Why nobody can say how far to trust a case.

use sim_core::doubt::DoubtError;

use crate::failure::{Failure, Status};

#[derive(Debug, thiserror::Error)]
pub(super) enum DoubtFailure {
    #[error("{}{error}", place(.name, .error))]
    Undrawn { name: String, error: DoubtError },
}

/// Where the fault is: in an option, or in the case.
fn place(name: &str, error: &DoubtError) -> String {
    match error {
        DoubtError::OutOfBounds(bounds) => {
            let unit = if bounds.unit == "mm" { "mm" } else { "deg" };
            format!("--{}-{unit}: ", bounds.what.replace(' ', "-"))
        }
        DoubtError::Draws { .. } => "--draws: ".to_owned(),
        _ => format!("{name}: "),
    }
}

impl Failure for DoubtFailure {
    fn status(&self) -> Status {
        match self {
            Self::Undrawn { error: DoubtError::Draws { .. } | DoubtError::OutOfBounds(_), .. } => {
                Status::Wrong
            }
            Self::Undrawn { .. } => Status::Failed,
        }
    }
}
