//! The journal of an unfinished table: whose it is, and which groups of rows stand whole in its file.
//!
//! Everything in it carries a checksum, so that what a crash left half written is told from what is
//! whole, whichever of the two files reached the disk first.

use std::fs::File;
use std::io::{self, BufReader, Read, Seek, SeekFrom};
use std::ops::Range;

use crate::groups::Encoded;

/// Begins every journal; another word when its layout changes.
const MARK: &[u8] = b"study-run journal, layout 1\n";
/// More than any note or identity has: what a torn length might claim.
const MOST_BYTES: u32 = 1 << 30;

/// What a run is of: the lines that must be the same for another run to go on with it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Identity {
    pub(crate) study_sha256: String,
    pub(crate) version: String,
    pub(crate) part: String,
    pub(crate) form: &'static str,
}

impl Identity {
    fn lines(&self) -> [(&'static str, String); 4] {
        [
            ("study", self.study_sha256.clone()),
            ("version", self.version.clone()),
            ("part", self.part.clone()),
            ("form", self.form.to_owned()),
        ]
    }

    pub(crate) fn text(&self) -> String {
        self.lines().map(|(name, value)| format!("{name} {value}\n")).concat()
    }

    /// The first difference from what a journal or a table was begun with, in words: as it was, as it is.
    pub(crate) fn differs(&self, begun: &str) -> Option<(String, String)> {
        let value = |name: &str| begun.lines().find_map(|line| line.strip_prefix(name)?.strip_prefix(' '));
        let (name, now, was) = self.lines().into_iter().find_map(|(name, now)| {
            let was = value(name).unwrap_or("unknown").to_owned();
            (was != now).then_some((name, now, was))
        })?;
        Some(match name {
            "study" => {
                let short = |hash: &str| hash.chars().take(12).collect::<String>();
                let begun = format!("with another study or other casts (hash {}…)", short(&was));
                (begun, format!("one of hash {}…", short(&now)))
            }
            "version" => (format!("by version {was}"), format!("version {now}")),
            "part" => (format!("as part {was}"), format!("part {now}")),
            _ => (format!("as {was}"), now),
        })
    }
}

/// A group of rows that stands in the table's file.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Entry {
    pub(crate) rows: Range<u64>,
    pub(crate) start: u64,
    pub(crate) length: u64,
    pub(crate) checksum: u32,
    pub(crate) with_reason: u64,
    pub(crate) note: Vec<u8>,
}

impl Entry {
    pub(crate) fn of(group: &Encoded, start: u64) -> Self {
        Self {
            rows: group.rows.clone(),
            start,
            length: group.bytes.body().len() as u64,
            checksum: crc32fast::hash(group.bytes.body()),
            with_reason: group.with_reason,
            note: group.bytes.note.clone(),
        }
    }

    /// As it stands in the journal.
    pub(crate) fn bytes(&self) -> Vec<u8> {
        let mut content = Vec::with_capacity(44 + self.note.len());
        for number in [self.rows.start, self.rows.end, self.start, self.length, self.with_reason] {
            content.extend(number.to_le_bytes());
        }
        content.extend(self.checksum.to_le_bytes());
        content.extend(&self.note);
        framed(&content)
    }

    fn from_content(content: &[u8]) -> Option<Self> {
        let (numbers, rest) = content.split_first_chunk::<40>()?;
        let (checksum, note) = rest.split_first_chunk::<4>()?;
        let mut numbers = numbers.chunks_exact(8).map(|bytes| {
            let mut number = [0; 8];
            number.copy_from_slice(bytes);
            u64::from_le_bytes(number)
        });
        let mut next = || numbers.next();
        Some(Self {
            rows: next()?..next()?,
            start: next()?,
            length: next()?,
            with_reason: next()?,
            checksum: u32::from_le_bytes(*checksum),
            note: note.to_vec(),
        })
    }
}

/// A journal's beginning.
pub(crate) fn begin(identity: &Identity) -> Vec<u8> {
    [MARK, &framed(identity.text().as_bytes())].concat()
}

/// Length, content, checksum.
fn framed(content: &[u8]) -> Vec<u8> {
    let mut bytes = Vec::with_capacity(content.len() + 8);
    bytes.extend((content.len() as u32).to_le_bytes());
    bytes.extend(content);
    bytes.extend(crc32fast::hash(content).to_le_bytes());
    bytes
}

/// Reads a journal from its beginning, as far as it is whole.
pub(crate) struct Reader<'f> {
    file: BufReader<&'f File>,
    /// Bytes read that are whole.
    pub(crate) whole: u64,
}

impl<'f> Reader<'f> {
    /// Also gives whose it is; nothing where not even that is whole.
    pub(crate) fn open(mut file: &'f File) -> io::Result<Option<(String, Self)>> {
        file.seek(SeekFrom::Start(0))?;
        let mut reader = Self { file: BufReader::new(file), whole: 0 };
        let mut mark = [0; MARK.len()];
        if !filled(&mut reader.file, &mut mark)? || mark != MARK {
            return Ok(None);
        }
        reader.whole = MARK.len() as u64;
        let identity = reader.frame()?.and_then(|content| String::from_utf8(content).ok());
        Ok(identity.map(|identity| (identity, reader)))
    }

    /// The next entry; nothing where the journal ends or is not whole.
    pub(crate) fn entry(&mut self) -> io::Result<Option<Entry>> {
        let before = self.whole;
        let entry = self.frame()?.and_then(|content| Entry::from_content(&content));
        if entry.is_none() {
            self.whole = before;
        }
        Ok(entry)
    }

    fn frame(&mut self) -> io::Result<Option<Vec<u8>>> {
        let mut length = [0; 4];
        if !filled(&mut self.file, &mut length)? {
            return Ok(None);
        }
        let length = u32::from_le_bytes(length);
        if length > MOST_BYTES {
            return Ok(None);
        }
        let mut content = Vec::new();
        (&mut self.file).take(u64::from(length)).read_to_end(&mut content)?;
        let mut checksum = [0; 4];
        let is_whole = content.len() as u64 == u64::from(length)
            && filled(&mut self.file, &mut checksum)?
            && u32::from_le_bytes(checksum) == crc32fast::hash(&content);
        if !is_whole {
            return Ok(None);
        }
        self.whole += u64::from(length) + 8;
        Ok(Some(content))
    }
}

/// Whether there were enough bytes.
fn filled(input: &mut impl Read, bytes: &mut [u8]) -> io::Result<bool> {
    match input.read_exact(bytes) {
        Ok(()) => Ok(true),
        Err(error) if error.kind() == io::ErrorKind::UnexpectedEof => Ok(false),
        Err(error) => Err(error),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn identity(version: &str, form: &'static str) -> Identity {
        Identity { study_sha256: "ab".repeat(32), version: version.to_owned(), part: "1/1".to_owned(), form }
    }

    #[test]
    fn what_was_begun_by_another_version_or_in_another_form_differs() {
        let now = identity("0.2.0", "CSV");
        assert_eq!(now.differs(&now.text()), None);
        let words = |begun: &str, now: &str| Some((begun.to_owned(), now.to_owned()));
        let older = identity("0.1.9", "CSV");
        assert_eq!(now.differs(&older.text()), words("by version 0.1.9", "version 0.2.0"));
        let other = identity("0.2.0", "Parquet");
        assert_eq!(now.differs(&other.text()), words("as Parquet", "CSV"));
    }

    #[test]
    fn an_entry_comes_back_as_it_was() {
        let entry =
            Entry { rows: 7..71, start: 4, length: 9000, checksum: 77, with_reason: 3, note: vec![1, 2, 3] };
        let bytes = entry.bytes();
        assert_eq!(Entry::from_content(&bytes[4..bytes.len() - 4]), Some(entry));
    }
}
