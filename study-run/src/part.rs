//! Parts of a study: contiguous rows, for machines that do not know of each other.

use std::fmt;
use std::ops::Range;
use std::path::{Path, PathBuf};
use std::str::FromStr;

/// One of several parts of about as many rows each; together they are the study's rows, in order.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Part {
    number: u32,
    of: u32,
}

/// Why something is no part.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error(
    "`{given}` is no part; give it as 3/8, the third of eight, with the first number from 1 to the second"
)]
pub struct NoPart {
    given: String,
}

impl Part {
    /// Everything.
    pub const WHOLE: Self = Self { number: 1, of: 1 };

    /// The part of that number, from 1.
    ///
    /// # Errors
    /// [`NoPart`] unless 1 ≤ `number` ≤ `of`.
    pub fn new(number: u32, of: u32) -> Result<Self, NoPart> {
        let is_one = (1..=of).contains(&number);
        if is_one { Ok(Self { number, of }) } else { Err(NoPart { given: format!("{number}/{of}") }) }
    }

    /// Whether it is everything.
    #[must_use]
    pub const fn is_whole(self) -> bool {
        self.of == 1
    }

    /// Its rows among so many. Parts differ by a row at most; where there are fewer rows than parts,
    /// some are empty.
    #[must_use]
    pub fn rows(self, of_all: u64) -> Range<u64> {
        let border = |number: u32| {
            let border = u128::from(of_all) * u128::from(number) / u128::from(self.of);
            u64::try_from(border).unwrap_or(of_all)
        };
        border(self.number - 1)..border(self.number)
    }

    /// A file's name with the part in it: `table.part-03-of-12.parquet`; the name itself for everything.
    #[must_use]
    pub fn named(self, path: &Path) -> PathBuf {
        if self.is_whole() {
            return path.to_owned();
        }
        let width = self.of.to_string().len();
        let word = format!("part-{:0width$}-of-{}", self.number, self.of);
        with_word(path, &word)
    }
}

/// A file's name with a word before its ending.
pub(crate) fn with_word(path: &Path, word: &str) -> PathBuf {
    let mut name = path.file_stem().unwrap_or_default().to_owned();
    name.push(".");
    name.push(word);
    if let Some(ending) = path.extension() {
        name.push(".");
        name.push(ending);
    }
    path.with_file_name(name)
}

impl fmt::Display for Part {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}/{}", self.number, self.of)
    }
}

impl FromStr for Part {
    type Err = NoPart;

    fn from_str(given: &str) -> Result<Self, NoPart> {
        let no_part = || NoPart { given: given.to_owned() };
        let (number, of) = given.split_once('/').ok_or_else(no_part)?;
        let (number, of) = (number.trim().parse(), of.trim().parse());
        let (Ok(number), Ok(of)) = (number, of) else { return Err(no_part()) };
        Self::new(number, of).map_err(|_| no_part())
    }
}
