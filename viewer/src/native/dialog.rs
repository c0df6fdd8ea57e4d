//! The desktop's own dialog for choosing a file, while the window goes on.

use std::path::PathBuf;
use std::sync::mpsc::{Receiver, TryRecvError, channel};

/// A dialog that is open.
pub(super) struct Dialog {
    answer: Receiver<Option<PathBuf>>,
}

impl Dialog {
    /// Opens it.
    pub(super) fn open(to_save: bool, suggested: &str) -> Self {
        let (send, answer) = channel();
        let suggested = suggested.to_owned();
        let ask = move || {
            let dialog = rfd::FileDialog::new().add_filter("scenes", &["ron"]);
            let chosen =
                if to_save { dialog.set_file_name(suggested).save_file() } else { dialog.pick_file() };
            // The window may have been closed meanwhile.
            let _ = send.send(chosen);
        };
        if cfg!(target_os = "macos") {
            // There a dialog belongs to the thread of the window.
            ask();
        } else {
            std::thread::spawn(ask);
        }
        Self { answer }
    }

    /// The answer, once there is one: a file, or none.
    pub(super) fn answered(&self) -> Option<Option<PathBuf>> {
        match self.answer.try_recv() {
            Ok(chosen) => Some(chosen),
            Err(TryRecvError::Empty) => None,
            Err(TryRecvError::Disconnected) => Some(None),
        }
    }
}
