//! Why a scene cannot be shown.

use sim_core::excursion::NoPose;

use crate::casts::CastsError;

/// Why a scene cannot be shown.
#[derive(Debug, thiserror::Error)]
pub enum Unshowable {
    /// None of its excursions has a pose.
    #[error(transparent)]
    NoPose(#[from] NoPose),
    /// Its casts cannot be had.
    #[error(transparent)]
    Casts(Box<CastsError>),
}

impl From<CastsError> for Unshowable {
    fn from(error: CastsError) -> Self {
        Self::Casts(Box::new(error))
    }
}
