//! The answer to a goal, in short.

use super::factor::FactorChange;
use crate::units::Length;

/// The answer to a goal, in short.
#[derive(Clone, Debug, PartialEq)]
pub struct Answer {
    /// What changes.
    pub changes: Vec<FactorChange>,
    /// Whether all that is wanted is reached.
    pub met: bool,
    /// The greatest miss: a gap or interference for balance, what is lacking of a clearance.
    pub greatest: Length,
}
