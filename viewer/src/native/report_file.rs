//! The report on its way to a file.

use std::fs::File;
use std::io::Write;
use std::path::Path;

use super::error::ViewerError;
use crate::report::Line;

/// The file written to.
#[derive(Debug)]
pub(super) struct ReportFile {
    file: File,
    last: Option<Line>,
    name: String,
}

impl ReportFile {
    /// Begins a report; a file of that name begins anew.
    ///
    /// # Errors
    /// [`ViewerError::Unwritable`].
    pub(super) fn begin(path: &Path) -> Result<Self, ViewerError> {
        let name = words::quoted::path(path);
        let file = File::create(path)
            .map_err(|error| ViewerError::Unwritable { file: name.clone(), why: error.to_string() })?;
        Ok(Self { file, last: None, name })
    }

    /// Writes the line of a frame if anything is different from the frame before.
    ///
    /// # Errors
    /// [`ViewerError::Unwritable`].
    pub(super) fn write(&mut self, line: Line) -> Result<(), ViewerError> {
        let line = line.after(self.last.as_ref());
        if self.last.as_ref() == Some(&line) {
            return Ok(());
        }
        let unwritable = |why: String| ViewerError::Unwritable { file: self.name.clone(), why };
        let mut text = serde_json::to_string(&line).map_err(|error| unwritable(error.to_string()))?;
        text.push('\n');
        self.file.write_all(text.as_bytes()).map_err(|error| unwritable(error.to_string()))?;
        self.last = Some(line);
        Ok(())
    }
}
