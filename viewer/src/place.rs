//! Where the viewer is shown, and what that leaves out.

use std::path::PathBuf;

/// Where the viewer is shown.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Place {
    /// In a window of its own, on a computer with a disk.
    #[default]
    Desktop,
    /// In a page of a browser, which gives it files by name and takes files by name.
    Page,
}

impl Place {
    /// Whether it is a page of a browser.
    #[must_use]
    pub const fn is_page(self) -> bool {
        matches!(self, Self::Page)
    }

    /// A file to write, as far as it can be said where: a page knows no folders.
    #[must_use]
    pub fn file(self, typed: PathBuf) -> PathBuf {
        match (self, typed.file_name()) {
            (Self::Page, Some(name)) => PathBuf::from(name),
            _ => typed,
        }
    }

    /// Why no PDF is made here.
    #[must_use]
    pub const fn why_no_pdf(self) -> Option<&'static str> {
        match self {
            Self::Desktop => None,
            Self::Page => {
                Some("A page of a browser makes no PDF: write the sheet as HTML, open it and print it.")
            }
        }
    }

    /// What is said of a file that went out: how, where it is now, and what to know of it.
    pub(crate) const fn gone_out(self, on_disk: &'static str) -> (&'static str, &'static str) {
        match self {
            Self::Desktop => ("Written", on_disk),
            Self::Page => ("Handed to the browser", "The browser keeps it among its downloads."),
        }
    }
}
