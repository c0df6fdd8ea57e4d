//! Why a number is not taken apart.

use report::account::AccountError;

use crate::failure::{Failure, Status};

#[derive(Debug, thiserror::Error)]
#[error("{}", said(.0))]
pub(super) struct WhyFailure(#[from] AccountError);

/// With the option that the fault is about.
fn said(error: &AccountError) -> String {
    use report::contacts::PlaceError;
    match error {
        AccountError::Place(PlaceError::At(error)) => format!("--at: {error}"),
        AccountError::Place(PlaceError::NoEnd { name }) => {
            format!("--excursion {name}: the scene makes none of it; say how far with --at")
        }
        AccountError::Place(error) => format!("--excursion {error}"),
        AccountError::NoSuchCusp { .. } => format!("--cusp {error}"),
        AccountError::NoPose(_) | AccountError::Account(_) => error.to_string(),
    }
}

impl Failure for WhyFailure {
    fn status(&self) -> Status {
        match self.0 {
            AccountError::NoPose(_) | AccountError::Account(_) => Status::Failed,
            AccountError::Place(_) | AccountError::NoSuchCusp { .. } => Status::Wrong,
        }
    }
}
