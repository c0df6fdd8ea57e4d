//! Jaw poses side by side.

use crate::lanes::{LANES, Lane};

/// As many jaw poses as there are [lanes](crate::lanes), number by number.
#[derive(Clone, Debug)]
pub struct JawLanes {
    /// Columns of the rotation.
    pub(crate) columns: [[Lane; 3]; 3],
    pub(crate) translation: [Lane; 3],
}

impl Default for JawLanes {
    fn default() -> Self {
        Self { columns: [[[0.0; LANES]; 3]; 3], translation: [[0.0; LANES]; 3] }
    }
}
