//! Why a number is not taken apart.

use report::account::AccountError;

use crate::failure::{Failure, Status};

#[derive(Debug, thiserror::Error)]
#[error("{}", said(.name, .error))]
pub(super) struct WhyFailure {
    /// The scene.
    pub(super) name: String,
    pub(super) error: AccountError,
}

/// With the option that the fault is about, or the scene.
fn said(name: &str, error: &AccountError) -> String {
    use report::contacts::PlaceError;
    match error {
        AccountError::Place(PlaceError::At(error)) => format!("--at: {error}"),
        AccountError::Place(PlaceError::NoEnd { name }) => {
            format!("--excursion {name}: the scene makes none of it; say how far with --at")
        }
        AccountError::Place(error) => format!("--excursion {error}"),
        AccountError::NoSuchCusp { .. } => format!("--cusp {error}"),
        AccountError::NoCusps => format!("--number: {name}: {error}"),
        AccountError::NoPose(_) | AccountError::Account(_) => format!("{name}: {error}"),
    }
}

impl Failure for WhyFailure {
    fn status(&self) -> Status {
        match self.error {
            AccountError::NoPose(_) | AccountError::Account(_) => Status::Failed,
            AccountError::Place(_) | AccountError::NoSuchCusp { .. } | AccountError::NoCusps => Status::Wrong,
        }
    }
}
