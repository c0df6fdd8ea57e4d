//! An unfinished table in its file, with its journal beside it.

use std::fs::{self, File, TryLockError};
use std::io::{self, Read, Seek, SeekFrom, Write};
use std::ops::Range;
use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};

use crate::error::RunError;
use crate::form::Encoder;
use crate::groups::{Encoded, Grouping};
use crate::journal::{self, Entry, Identity, Reader};
use crate::part::with_word;

/// Between two moments at which what was written is made to last. More often would cost time, less
/// often lose more work when the power fails.
const BETWEEN_SAVES: Duration = Duration::from_secs(1);

/// Bytes read at a time when groups are checked.
const CHECKED_AT_A_TIME: usize = 1 << 16;

/// Where a table's files are.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Places {
    /// The whole table.
    pub(crate) table: PathBuf,
    /// The table while it is made; its ending is the table's, so that it can be read.
    pub(crate) unfinished: PathBuf,
    pub(crate) journal: PathBuf,
}

impl Places {
    pub(crate) fn of(table: &Path) -> Self {
        let unfinished = with_word(table, "unfinished");
        let mut journal = unfinished.clone().into_os_string();
        journal.push(".journal");
        Self { table: table.to_owned(), unfinished, journal: journal.into() }
    }

    /// Whether there is something to go on with, or something that is not ours. A file in which nothing stands is
    /// what a run left that was ended before it began.
    pub(crate) fn is_begun(&self) -> bool {
        let holds = |path: &PathBuf| {
            fs::symlink_metadata(path).is_ok_and(|about| !about.is_file() || about.len() > 0)
        };
        [&self.unfinished, &self.journal].into_iter().any(holds)
    }

    /// Refuses links where files of ours are to be: what they lead to is somebody's.
    pub(crate) fn without_links(&self) -> Result<(), RunError> {
        for path in [&self.unfinished, &self.journal] {
            if fs::symlink_metadata(path).is_ok_and(|about| about.is_symlink()) {
                return Err(RunError::Link { name: words::quoted::path(path), table: self.table_name() });
            }
        }
        Ok(())
    }

    /// How messages call the table, which is what was asked for.
    pub(crate) fn table_name(&self) -> String {
        words::quoted::path(&self.table)
    }
}

/// An unfinished table, open for more rows.
pub(crate) struct WorkFile {
    places: Places,
    table: File,
    journal: File,
    /// Bytes of whole groups in the table, with its head.
    length: u64,
    /// Entries of groups that are written but not made to last.
    entries: Vec<u8>,
    last_save: Instant,
    /// Rows written.
    pub(crate) written: u64,
    /// Rows written and made to last.
    pub(crate) saved: u64,
    /// Rows written that have a reason why something could not be measured.
    pub(crate) with_reason: u64,
}

impl WorkFile {
    /// Begins a table.
    pub(crate) fn begin(places: Places, identity: &Identity, head: &[u8]) -> Result<Self, RunError> {
        let refused = |error| RunError::Unopenable { name: places.table_name(), error };
        let was_there = |path: &PathBuf| fs::symlink_metadata(path).is_ok();
        let ours: Vec<&PathBuf> =
            [&places.journal, &places.unfinished].into_iter().filter(|path| !was_there(path)).collect();
        // What a start that failed has made would be in the way of the next.
        let undone = |error: RunError| {
            for path in &ours {
                let _ = fs::remove_file(path);
            }
            error
        };
        let journal = open(&places.journal).map_err(refused)?;
        lock(&journal, &places)?;
        let mut table = open(&places.unfinished).map_err(refused).map_err(undone)?;
        let begun = (|| {
            // A journal without its beginning is one of nothing, whatever stands in the table.
            journal.set_len(0)?;
            table.set_len(0)?;
            table.write_all(head)?;
            (&journal).write_all(&journal::begin(identity))?;
            table.sync_all()?;
            journal.sync_all()
        })();
        begun.map_err(refused).map_err(undone)?;
        sync_folder(&places.unfinished);
        Ok(Self {
            places,
            table,
            journal,
            length: head.len() as u64,
            entries: Vec::new(),
            last_save: Instant::now(),
            written: 0,
            saved: 0,
            with_reason: 0,
        })
    }

    /// Goes on with a table; nothing where none was begun that can be gone on with. What is not whole at
    /// its end is cut off.
    pub(crate) fn resume(
        places: &Places,
        identity: &Identity,
        head: &[u8],
        (rows, grouping): (&Range<u64>, Grouping),
    ) -> Result<Option<Self>, RunError> {
        let open_old = |path: &Path| match File::options().read(true).write(true).open(path) {
            Ok(file) => Ok(Some(file)),
            Err(error) if error.kind() == io::ErrorKind::NotFound => Ok(None),
            Err(error) => Err(RunError::Unopenable { name: words::quoted::path(path), error }),
        };
        let (Some(journal), Some(mut table)) = (open_old(&places.journal)?, open_old(&places.unfinished)?)
        else {
            return Ok(None);
        };
        lock(&journal, places)?;
        let refused = |error| RunError::Unopenable { name: words::quoted::path(&places.unfinished), error };
        let Some((begun, mut reader)) = Reader::open(&journal).map_err(refused)? else { return Ok(None) };
        if let Some((begun, now)) = identity.differs(&begun) {
            return Err(RunError::OfAnother { name: words::quoted::path(&places.unfinished), begun, now });
        }
        if !is_there(&mut table, head).map_err(refused)? {
            return Ok(None);
        }
        let (mut length, mut written, mut with_reason) = (head.len() as u64, 0, 0);
        let mut whole = reader.whole;
        let mut number = 0;
        while let Some(entry) = reader.entry().map_err(refused)? {
            let is_next = entry.start == length && entry.rows == grouping.group(rows, number);
            if !is_next || !stands(&mut table, &entry).map_err(refused)? {
                break;
            }
            length += entry.length;
            written += entry.rows.end - entry.rows.start;
            with_reason += entry.with_reason;
            whole = reader.whole;
            number += 1;
        }
        let cut = (|| {
            table.set_len(length)?;
            journal.set_len(whole)?;
            table.seek(SeekFrom::Start(length))?;
            (&journal).seek(SeekFrom::Start(whole))?;
            table.sync_all()?;
            journal.sync_all()
        })();
        cut.map_err(refused)?;
        Ok(Some(Self {
            places: places.clone(),
            table,
            journal,
            length,
            entries: Vec::new(),
            last_save: Instant::now(),
            written,
            saved: written,
            with_reason,
        }))
    }

    /// Writes the next group. It is made to last now or within a second of writing on.
    pub(crate) fn append(&mut self, group: &Encoded) -> Result<(), RunError> {
        if let Err(error) = self.table.write_all(group.bytes.body()) {
            self.keep_what_is_whole();
            return Err(self.broken(error));
        }
        let entry = Entry::of(group, self.length);
        self.entries.extend(entry.bytes());
        self.length += entry.length;
        self.written += group.rows.end - group.rows.start;
        self.with_reason += group.with_reason;
        if self.last_save.elapsed() >= BETWEEN_SAVES { self.save() } else { Ok(()) }
    }

    /// After a write that failed: what was written of the group is cut off, which on a full disk makes room for the
    /// journal's entries of the groups before it. Where that fails too, what was saved before still stands.
    fn keep_what_is_whole(&mut self) {
        if self.table.set_len(self.length).is_ok() {
            let _ = self.save();
        }
    }

    /// Makes everything written last.
    pub(crate) fn save(&mut self) -> Result<(), RunError> {
        let saved = self.table.sync_data().and_then(|()| {
            (&self.journal).write_all(&self.entries)?;
            self.journal.sync_data()
        });
        saved.map_err(|error| self.broken(error))?;
        self.entries.clear();
        self.saved = self.written;
        self.last_save = Instant::now();
        Ok(())
    }

    /// Makes the file readable as it is, to be gone on with later.
    pub(crate) fn leave(mut self, encoder: &Encoder) -> Result<PathBuf, RunError> {
        self.close(encoder)?;
        Ok(self.places.unfinished)
    }

    /// Puts the whole table in its place; gives its size in bytes.
    pub(crate) fn finish(mut self, encoder: &Encoder) -> Result<u64, RunError> {
        let size = self.close(encoder)?;
        fs::rename(&self.places.unfinished, &self.places.table).map_err(|error| self.broken(error))?;
        sync_folder(&self.places.table);
        // The table is whole; a journal that stays is in nobody's way but the next run's.
        fs::remove_file(&self.places.journal).map_err(|error| self.broken(error))?;
        Ok(size)
    }

    fn close(&mut self, encoder: &Encoder) -> Result<u64, RunError> {
        self.save()?;
        let tail = encoder.tail(self.notes()?)?;
        let written = self.table.write_all(&tail).and_then(|()| self.table.sync_all());
        written.map_err(|error| self.broken(error))?;
        Ok(self.length + tail.len() as u64)
    }

    /// Places and notes of the groups, read back from the journal.
    fn notes(&self) -> Result<impl Iterator<Item = Result<(u64, Vec<u8>), RunError>>, RunError> {
        let name = words::quoted::path(&self.places.journal);
        let refused = move |error| RunError::Unopenable { name: name.clone(), error };
        let opened = Reader::open(&self.journal).map_err(&refused)?;
        let (_, mut reader) =
            opened.ok_or_else(|| RunError::Fault("the journal lost its beginning".to_owned()))?;
        Ok(std::iter::from_fn(move || match reader.entry() {
            Ok(entry) => entry.map(|entry| Ok((entry.start, entry.note))),
            Err(error) => Some(Err(refused(error))),
        }))
    }

    fn broken(&self, error: io::Error) -> RunError {
        RunError::Broken { name: words::quoted::path(&self.places.unfinished), error, saved: self.saved }
    }
}

/// A file of ours, made if it is not there, and nothing cut off it yet.
fn open(path: &Path) -> io::Result<File> {
    File::options().read(true).write(true).create(true).truncate(false).open(path)
}

fn lock(journal: &File, places: &Places) -> Result<(), RunError> {
    let name = || words::quoted::path(&places.unfinished);
    match journal.try_lock() {
        Ok(()) => Ok(()),
        Err(TryLockError::WouldBlock) => Err(RunError::Busy { name: name() }),
        // A file system without locks has no two runs to be told apart.
        Err(TryLockError::Error(error)) if error.kind() == io::ErrorKind::Unsupported => Ok(()),
        Err(TryLockError::Error(error)) => Err(RunError::Unopenable { name: name(), error }),
    }
}

/// Whether a file begins so.
fn is_there(table: &mut File, head: &[u8]) -> io::Result<bool> {
    let mut beginning = Vec::with_capacity(head.len());
    table.seek(SeekFrom::Start(0))?;
    table.take(head.len() as u64).read_to_end(&mut beginning)?;
    Ok(beginning == head)
}

/// Whether a group stands whole in the file.
fn stands(table: &mut File, entry: &Entry) -> io::Result<bool> {
    table.seek(SeekFrom::Start(entry.start))?;
    let mut checksum = crc32fast::Hasher::new();
    let mut piece = vec![0; CHECKED_AT_A_TIME];
    let mut rest = table.take(entry.length);
    loop {
        match rest.read(&mut piece)? {
            0 => break,
            length => checksum.update(&piece[..length]),
        }
    }
    Ok(rest.limit() == 0 && checksum.finalize() == entry.checksum)
}

/// Makes names in a folder last, where the system can; the files themselves are safe without it.
fn sync_folder(path: &Path) {
    let folder = path.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."));
    if let Ok(folder) = File::open(folder) {
        let _ = folder.sync_all();
    }
}
