//! A group of rows as it stands in a file.

/// A group of rows as it stands in the file.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(crate) struct Bytes {
    /// With some bytes before the group, which are skipped rather than moved.
    pub(super) buffer: Vec<u8>,
    pub(super) skipped: usize,
    /// What the end of the file needs to know of it; nothing for CSV.
    pub(crate) note: Vec<u8>,
}

impl Bytes {
    /// What is written.
    pub(crate) fn body(&self) -> &[u8] {
        self.buffer.get(self.skipped..).unwrap_or_default()
    }
}
