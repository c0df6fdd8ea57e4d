//! What can be wrong with a file, in words.

use files::cast::CastFileError;
use files::tracing::TracingError;
use files::{LessonError, TextError};
use sim_core::record::program::ProgramError;
use sim_core::tracing::ExamineError;

use crate::unshowable::Unshowable;

/// A file that cannot be opened.
#[derive(Debug, thiserror::Error)]
pub enum FileError {
    /// The file cannot be read, or its text is no scene.
    #[error(transparent)]
    Text(TextError),
    /// A file of a cast that it names cannot be opened.
    #[error("{file}: {source}")]
    Cast {
        /// The scene's file.
        file: String,
        /// Which file, and why.
        source: Box<CastFileError>,
    },
    /// A case that cannot be worked through.
    #[error("{file}:{line}:{column}: field {source}")]
    Case {
        /// The case's file.
        file: String,
        /// Line of the field at fault.
        line: usize,
        /// Its column.
        column: usize,
        /// What is wrong.
        source: Box<ProgramError>,
    },
    /// A tracing that cannot be read.
    #[error(transparent)]
    Tracing(TracingError),
    /// A tracing that shows nothing.
    #[error("{file}: {source}")]
    Unexamined {
        /// The file.
        file: String,
        /// Why.
        source: Box<ExamineError>,
    },
    /// A photo of a tracing, which has no scale of its own.
    #[error(
        "{file}: a photo has no scale of its own; `eminentia tracing` reads one with its scale, and with `--format csv` \
         writes its points, which can be opened here"
    )]
    Photo {
        /// The file.
        file: String,
    },
    /// A lesson that cannot be given.
    #[error(transparent)]
    Lesson(Box<LessonError>),
    /// A sound scene that cannot be shown.
    #[error("{file}: {source}")]
    Unshowable {
        /// The file.
        file: String,
        /// Why.
        source: Unshowable,
    },
}

impl FileError {
    /// Whether the file is a lesson, as far as it could be told.
    #[must_use]
    pub const fn is_of_a_lesson(&self) -> bool {
        matches!(self, Self::Lesson(_))
    }
}
