//! What is kept on this machine between windows: files opened lately, and sessions with changes that were
//! never saved. Nothing of it leaves the machine.

use std::fs::{File, TryLockError};
use std::path::{Path, PathBuf};
use std::time::SystemTime;

use directories::ProjectDirs;

use super::whole_file;
use crate::session::{Offer, Session, left_ago};

/// Files kept in the list.
const RECENT: usize = 12;

/// The folder of the viewer's own on this machine; none where there is no home.
#[derive(Debug)]
pub(super) struct KeptFolder {
    folder: PathBuf,
    /// Name of this window's session.
    name: String,
    /// Held while this window is open: the session of a window that is open is not offered to another.
    _lock: File,
    written: Option<String>,
}

impl KeptFolder {
    /// Finds the folder, and makes it where there is none.
    pub(super) fn find() -> Option<Self> {
        let dirs = ProjectDirs::from("", "", "eminentia")?;
        let folder = dirs.state_dir().unwrap_or_else(|| dirs.data_local_dir()).join("viewer");
        std::fs::create_dir_all(folder.join("sessions")).ok()?;
        let began =
            SystemTime::now().duration_since(SystemTime::UNIX_EPOCH).map_or(0, |since| since.as_nanos());
        let name = format!("{}-{began}", std::process::id());
        let lock = File::create(lock_of(&folder, &name)).ok()?;
        lock.try_lock().ok()?;
        Some(Self { folder, name, _lock: lock, written: None })
    }

    /// The files opened lately that are still there.
    pub(super) fn recent(&self) -> Vec<PathBuf> {
        let text = std::fs::read_to_string(self.folder.join("recent.json")).unwrap_or_default();
        let listed: Vec<PathBuf> = serde_json::from_str(&text).unwrap_or_default();
        listed.into_iter().filter(|path| path.is_file()).take(RECENT).collect()
    }

    /// Puts a file at the head of the list.
    pub(super) fn remember(&self, file: &Path) {
        let Ok(file) = std::path::absolute(file) else { return };
        let mut recent = self.recent();
        recent.retain(|other| *other != file);
        recent.insert(0, file);
        recent.truncate(RECENT);
        if let Ok(text) = serde_json::to_string(&recent) {
            // A list that cannot be kept is no reason to disturb anybody.
            let _ = whole_file::write(&self.folder.join("recent.json"), text.as_bytes());
        }
    }

    /// Keeps the session as it stands, where it is another than the one kept.
    pub(super) fn keep(&mut self, session: Option<&Session>) {
        let text = session.map(Session::to_text);
        if text == self.written {
            return;
        }
        let path = session_of(&self.folder, &self.name);
        let kept = match &text {
            Some(text) => whole_file::write(&path, text.as_bytes()),
            None => std::fs::remove_file(&path),
        };
        if kept.is_ok() {
            self.written = text;
        }
    }

    /// A session that another window left, the latest one; what cannot be read is cleared away.
    pub(super) fn left_behind(&self) -> Option<Offer> {
        let mut latest: Option<(SystemTime, Offer)> = None;
        for entry in std::fs::read_dir(self.folder.join("sessions")).ok()?.flatten() {
            let path = entry.path();
            let Some(name) = path.file_stem().map(|stem| stem.to_string_lossy().into_owned()) else {
                continue;
            };
            if name == self.name || !self.is_left(&name) {
                continue;
            }
            let text = std::fs::read_to_string(session_of(&self.folder, &name)).unwrap_or_default();
            let Some((session, scene)) = Session::from_text(&text) else {
                self.forget(&name);
                continue;
            };
            let when = entry.metadata().and_then(|facts| facts.modified()).unwrap_or(SystemTime::UNIX_EPOCH);
            let offer = Offer { session, title: scene.title, left: since(when), name };
            if latest.as_ref().is_none_or(|(other, _)| *other < when) {
                latest = Some((when, offer));
            }
        }
        latest.map(|(_, offer)| offer)
    }

    /// Whether the window of a session is gone: nobody holds its lock.
    fn is_left(&self, name: &str) -> bool {
        File::open(lock_of(&self.folder, name))
            .is_ok_and(|file| !matches!(file.try_lock(), Err(TryLockError::WouldBlock)))
    }

    /// Throws a session away.
    pub(super) fn forget(&self, name: &str) {
        for path in [session_of(&self.folder, name), lock_of(&self.folder, name)] {
            // What is gone already need not go.
            let _ = std::fs::remove_file(path);
        }
    }

    /// Ends well: a window without unsaved changes leaves nothing behind.
    pub(super) fn close(self) {
        if self.written.is_none() {
            self.forget(&self.name);
        }
    }
}

fn session_of(folder: &Path, name: &str) -> PathBuf {
    folder.join("sessions").join(format!("{name}.json"))
}

fn lock_of(folder: &Path, name: &str) -> PathBuf {
    folder.join("sessions").join(format!("{name}.lock"))
}

/// How long ago, in words.
fn since(when: SystemTime) -> String {
    left_ago(SystemTime::now().duration_since(when).map_or(0, |since| since.as_secs() / 60))
}

/// Scenes in the folder of a file, in the order of their names.
pub(super) fn beside(file: &Path) -> Vec<PathBuf> {
    let folder = match file.parent() {
        Some(folder) if !folder.as_os_str().is_empty() => folder,
        _ => Path::new("."),
    };
    let Ok(entries) = std::fs::read_dir(folder) else { return Vec::new() };
    let is_scene = |path: &PathBuf| path.extension().is_some_and(|ending| ending.eq_ignore_ascii_case("ron"));
    let mut files: Vec<PathBuf> =
        entries.flatten().map(|entry| entry.path()).filter(|path| path.is_file() && is_scene(path)).collect();
    // Named as the file itself was.
    if file.parent().is_none_or(|folder| folder.as_os_str().is_empty()) {
        files = files.into_iter().filter_map(|path| path.file_name().map(PathBuf::from)).collect();
    }
    files.sort();
    files
}
