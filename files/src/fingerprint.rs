//! What tells contents apart.

use sha2::{Digest as _, Sha256};

/// SHA-256 of parts that follow each other, in 64 lower-case hexadecimal digits.
#[must_use]
pub fn sha256<'p>(parts: impl IntoIterator<Item = &'p [u8]>) -> String {
    let mut hash = Sha256::new();
    parts.into_iter().for_each(|part| hash.update(part));
    hash.finalize().iter().map(|byte| format!("{byte:02x}")).collect()
}
