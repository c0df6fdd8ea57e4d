//! The kinds of file that a sheet is written as.

use super::content::Sheet;
use super::html;
use super::paper::Paper;

/// Why there is no sheet as PDF: this program makes none (feature `paper`), or a fault of it. Never the case.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{reason}")]
pub struct SheetError {
    /// What the drawing library says.
    pub reason: String,
}

impl SheetError {
    /// Of a program that was built without PDF, and what it writes instead.
    #[cfg(not(feature = "paper"))]
    pub(crate) fn without(instead: &str) -> Self {
        Self { reason: format!("this program was built without PDF; write it as {instead} and print that") }
    }
}

/// The kinds of file.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    /// A web page.
    Html,
    /// A page to print.
    Pdf,
}

impl Kind {
    /// By the ending of a file's name, without its dot.
    pub fn of_ending(ending: &str) -> Option<Self> {
        match ending.to_lowercase().as_str() {
            "html" | "htm" => Some(Self::Html),
            "pdf" => Some(Self::Pdf),
            _ => None,
        }
    }

    /// How its file ends, without a dot.
    #[must_use]
    pub const fn ending(self) -> &'static str {
        match self {
            Self::Html => "html",
            Self::Pdf => "pdf",
        }
    }

    /// What to say of letters on the sheet that its typeface has no shape for; HTML takes the reader's.
    #[cfg(feature = "paper")]
    #[must_use]
    pub fn without_shape(self, sheet: &Sheet, paper: Paper) -> Option<String> {
        match self {
            Self::Html => None,
            Self::Pdf => crate::figures::without_shape(&super::page::svg(sheet, paper).0),
        }
    }

    /// Nothing: this program was built without what is set in a typeface of its own.
    #[cfg(not(feature = "paper"))]
    #[must_use]
    pub fn without_shape(self, _: &Sheet, _: Paper) -> Option<String> {
        None
    }

    /// The sheet as such a file.
    ///
    /// # Errors
    /// [`SheetError`] for a PDF, where it is not made or could not be.
    pub fn bytes(self, sheet: &Sheet, paper: Paper) -> Result<Vec<u8>, SheetError> {
        match self {
            Self::Html => Ok(html::text(sheet, paper).into_bytes()),
            #[cfg(feature = "paper")]
            Self::Pdf => super::pdf::bytes(sheet, paper).map_err(|reason| SheetError { reason }),
            #[cfg(not(feature = "paper"))]
            Self::Pdf => Err(SheetError::without("HTML")),
        }
    }
}
