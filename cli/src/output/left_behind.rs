//! Files that are not whole yet, which a signal that ends the program is not to leave behind.

use std::io;
use std::path::{Path, PathBuf};
use std::sync::{Mutex, MutexGuard, PoisonError};

use tempfile::NamedTempFile;

static UNFINISHED: Mutex<Vec<PathBuf>> = Mutex::new(Vec::new());

fn unfinished() -> MutexGuard<'static, Vec<PathBuf>> {
    UNFINISHED.lock().unwrap_or_else(PoisonError::into_inner)
}

/// Makes a file and takes note of it; once INT, TERM or HUP ends the program, it is removed. A signal that comes in between
/// waits until it is noted.
pub(super) fn made(make: impl FnOnce() -> io::Result<NamedTempFile>) -> io::Result<NamedTempFile> {
    #[cfg(unix)]
    watch();
    let mut unfinished = unfinished();
    let file = make()?;
    unfinished.push(file.path().to_owned());
    Ok(file)
}

/// The file is whole, or gone.
pub(super) fn forget(path: &Path) {
    unfinished().retain(|other| other != path);
}

/// Waits for the signals on a thread of its own, once.
#[cfg(unix)]
fn watch() {
    use std::sync::Once;
    use std::thread;

    use signal_hook::consts::{SIGHUP, SIGINT, SIGTERM};
    use signal_hook::iterator::Signals;
    use signal_hook::low_level::emulate_default_handler;

    static WATCHED: Once = Once::new();
    WATCHED.call_once(|| {
        // A system that takes no handler ends the program as it does any other.
        let Ok(mut signals) = Signals::new([SIGINT, SIGTERM, SIGHUP]) else { return };
        thread::spawn(move || {
            for signal in signals.forever() {
                // Held until the end, so that nothing new is begun and nothing half done is put in its place.
                let left = unfinished();
                for path in left.iter() {
                    let _ = std::fs::remove_file(path);
                }
                let _ = emulate_default_handler(signal);
            }
        });
    });
}
