//! The key of a deal, for the teacher alone.

use serde::{Deserialize, Serialize};

use super::{DealNumber, Fault, Form, Level};
use crate::text::{self, ReadError};

/// What a deal is dealt from: enough to deal it again, and so its truth.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Key {
    /// Number of the deal that it opens.
    pub deal: DealNumber,
    /// Seed of the deal.
    pub seed: u64,
    /// How hard it is.
    pub level: Level,
    /// The form of its records.
    pub form: Form,
    /// What is wrong with it.
    pub faults: Vec<Fault>,
}

impl Key {
    /// Reads a key from its text (RON).
    ///
    /// # Errors
    /// [`ReadError`] with line, column, field, what was given and what is allowed.
    pub fn from_ron(text: &str) -> Result<Self, ReadError> {
        text::read(text, |_: &Self| Ok(()))
    }

    /// Writes the key as text that [`Key::from_ron`] reads back as the same key.
    #[must_use]
    pub fn to_ron(&self) -> String {
        text::write(self)
    }
}
