//! What tells contents apart.

use std::io::{self, Read as _};
use std::path::Path;

use sha2::{Digest as _, Sha256};

use crate::open::open_table;

/// Bytes that are read at once.
const BUFFER_BYTES: usize = 1 << 16;

/// SHA-256 of a study's table, which need not fit into memory.
///
/// # Errors
/// What the system says.
pub fn sha256_of_table(path: &Path) -> io::Result<String> {
    let mut file = open_table(path)?;
    let mut hash = Sha256::new();
    let mut buffer = vec![0; BUFFER_BYTES];
    loop {
        match file.read(&mut buffer) {
            Ok(0) => break,
            Ok(length) => hash.update(&buffer[..length]),
            Err(error) if error.kind() == io::ErrorKind::Interrupted => {}
            Err(error) => return Err(error),
        }
    }
    Ok(hash.finalize().iter().map(|byte| format!("{byte:02x}")).collect())
}

/// SHA-256 of parts that follow each other, in 64 lower-case hexadecimal digits.
#[must_use]
pub fn sha256<'p>(parts: impl IntoIterator<Item = &'p [u8]>) -> String {
    let mut hash = Sha256::new();
    parts.into_iter().for_each(|part| hash.update(part));
    hash.finalize().iter().map(|byte| format!("{byte:02x}")).collect()
}
