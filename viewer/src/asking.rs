//! What the window asks, on a card in its middle: which file, under which name, what to do with changes.

use std::path::PathBuf;

use crate::session::Offer;
use crate::writing::{WriteCard, Writing};

/// What is asked.
#[derive(Clone, Debug, PartialEq)]
pub enum Asking {
    /// Which file is to be opened; the path as it is being typed.
    Open(String),
    /// Under which name the scene is to be saved.
    Save {
        /// The path as it is being typed.
        path: String,
        /// The window closes when it is saved.
        then_close: bool,
    },
    /// Whether a file that is there already is to be replaced.
    Replace {
        /// The file.
        path: PathBuf,
        /// What is known of it.
        why: String,
        /// The window closes when it is saved.
        then_close: bool,
    },
    /// What is to be written into which file.
    Write(WriteCard),
    /// Whether a file that is there already is to be replaced by what is written.
    WriteOver(Writing),
    /// Whether the window closes though there are changes that are not saved.
    Close,
    /// Whether changes that were not saved the last time are taken up again.
    TakeUp(Box<Offer>),
}

impl Asking {
    /// A word for it, for the report.
    #[must_use]
    pub const fn name(&self) -> &'static str {
        match self {
            Self::Open(_) => "open",
            Self::Save { .. } => "save",
            Self::Replace { .. } => "replace",
            Self::Write(_) => "write",
            Self::WriteOver(_) => "write_over",
            Self::Close => "close",
            Self::TakeUp(_) => "take_up",
        }
    }
}

/// An answer to what is asked.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Answer {
    /// Yes; open it; save it.
    Go,
    /// Save first, where closing is asked about.
    SaveFirst,
    /// Choose in a dialog of the desktop.
    Browse,
    /// Open it as a second set-up, B.
    Beside,
    /// This file of the list, as B.
    ThisBeside(PathBuf),
    /// This file of the list.
    This(PathBuf),
    /// Not that: throw away what was offered.
    Discard,
}

/// Files that are offered for opening.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Shelf {
    /// Opened lately, the last one first.
    pub recent: Vec<PathBuf>,
    /// Scenes in the folder of the file that is open, in the order of their names.
    pub beside: Vec<PathBuf>,
}
