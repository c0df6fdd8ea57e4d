//! Why a run did not come to its end.

use std::io;

use crate::table::BatchError;

/// Why a run did not come to its end; says what was kept and how to go on.
#[derive(Debug, thiserror::Error)]
pub enum RunError {
    /// An ending that names no form.
    #[error("{name}: unknown file extension; use .parquet or .csv, or - for CSV on standard output")]
    NoSuchForm {
        /// The file.
        name: String,
    },
    /// A finished table in the way.
    #[error("{name}: is already there; --overwrite computes it anew")]
    AlreadyThere {
        /// The file.
        name: String,
    },
    /// An unfinished table in the way.
    #[error("{name}: an unfinished run is already there; --resume goes on with it, --overwrite begins anew")]
    Unfinished {
        /// The unfinished file.
        name: String,
    },
    /// A file that is one of those read.
    #[error("{name}: is one of the files that the study is read from; choose another file")]
    IsTheInput {
        /// The file.
        name: String,
    },
    /// Something that is no file.
    #[error("{name}: is no ordinary file; give a file, or - for CSV on standard output")]
    NoFile {
        /// What was given.
        name: String,
    },
    /// A link where a file of ours is to be.
    #[error(
        "{table}: cannot be made: {name}, where its rows are collected, is a link, and what it leads to is not to be written \
         over; remove the link"
    )]
    Link {
        /// The link.
        name: String,
        /// The table asked for.
        table: String,
    },
    /// A folder that is not there.
    #[error("{name}: cannot be written: there is no folder {folder}; make it, or choose another file")]
    NoFolder {
        /// The table asked for.
        name: String,
        /// The folder.
        folder: String,
    },
    /// A run of something else.
    #[error("{name}: cannot go on: it was begun {begun}, and this is {now}; --overwrite begins anew")]
    OfAnother {
        /// The file.
        name: String,
        /// What differs, as it was.
        begun: String,
        /// The same, as it is now.
        now: String,
    },
    /// A finished table that does not say what it is of.
    #[error(
        "{name}: is already there, and nothing beside it is unfinished; it does not tell what study it is of, as a CSV never does, so that --overwrite is needed to compute it anew"
    )]
    Untold {
        /// The file.
        name: String,
    },
    /// Two runs at once.
    #[error("{name}: another run is writing it; wait for it, or choose another file")]
    Busy {
        /// The unfinished file.
        name: String,
    },
    /// A file that cannot be opened or made.
    #[error("{name}: cannot be written: {error}")]
    Unopenable {
        /// The file.
        name: String,
        /// What the system says.
        error: io::Error,
    },
    /// More than fits on the disk.
    #[error(
        "{name}: needs about {needed}, and {free} are free on its disk; record less, run a part of it (--part), write elsewhere, or go on all the same with --ignore-free-space"
    )]
    NoRoom {
        /// The file.
        name: String,
        /// Bytes that are needed, in words.
        needed: String,
        /// Bytes that are free, in words.
        free: String,
    },
    /// A write that failed.
    #[error(
        "{name} could not be written to its end: {error}; {saved} rows are kept, --resume goes on from there"
    )]
    Broken {
        /// The file.
        name: String,
        /// What the system says.
        error: io::Error,
        /// Rows that are kept.
        saved: u64,
    },
    /// A pipe that was closed.
    #[error("standard output was closed before everything was written")]
    Closed,
    /// Standard output otherwise.
    #[error("standard output could not be written to its end: {0}")]
    Standard(io::Error),
    /// What needs a file.
    #[error("{option} needs a file; standard output is written once, from the first row to the last")]
    NeedsFile {
        /// The option.
        option: &'static str,
    },
    /// Threads that the system does not give.
    #[error("threads cannot be started: {0}; fewer with --threads may do")]
    Threads(String),
    /// A fault of the program.
    #[error(transparent)]
    Batch(#[from] BatchError),
    /// A fault of the program.
    #[error("{0}; this is a fault of the program")]
    Fault(String),
}

impl RunError {
    /// Whether it came up in the work, rather than being wrong from the start.
    #[must_use]
    pub const fn is_of_the_work(&self) -> bool {
        matches!(
            self,
            Self::Broken { .. }
                | Self::Closed
                | Self::Standard(_)
                | Self::Threads(_)
                | Self::Batch(_)
                | Self::Fault(_)
        )
    }
}
