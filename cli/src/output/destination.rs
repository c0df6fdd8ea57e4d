//! Where output goes: standard output, or a file that is whole or not there.

use std::fs::{self, File};
use std::io::{self, BufWriter, Write};
use std::path::{Path, PathBuf};

use anstream::AutoStream;
use tempfile::NamedTempFile;

use super::left_behind;
use crate::failure::{Failure, Status};

/// Large enough that a write costs nothing beside the numbers in it.
const BUFFER_BYTES: usize = 1 << 16;

/// Why output cannot be written.
#[derive(Debug, thiserror::Error)]
pub(crate) enum OutputError {
    #[error("{name}: is a folder; a file is needed")]
    Folder { name: String },
    #[error("{name}: is the {input} that is read; choose another file")]
    IsTheInput { name: String, input: &'static str },
    #[error("{name}: cannot be written: {error}")]
    Unopenable { name: String, error: io::Error },
    #[error("{name}: cannot be written: there is no folder {folder}; make it, or choose another file")]
    NoFolder { name: String, folder: String },
    #[error("{first} and {second} are the same file; give each its own")]
    Twice { first: &'static str, second: &'static str },
    #[error("there is no {0} of this report; choose another --format")]
    NoSuchForm(&'static str),
    #[error("standard output was closed before everything was written")]
    Closed,
    #[error("{name} could not be written to its end: {error}{kept}")]
    Broken { name: String, error: io::Error, kept: &'static str },
}

impl OutputError {
    /// A failed write to standard output.
    pub(crate) fn standard(error: io::Error) -> Self {
        if error.kind() == io::ErrorKind::BrokenPipe {
            Self::Closed
        } else {
            Self::Broken { name: "standard output".to_owned(), error, kept: "" }
        }
    }
}

impl Failure for OutputError {
    /// What comes up in the work is no fault of what was given.
    fn status(&self) -> Status {
        match self {
            Self::Closed => Status::Closed,
            Self::Broken { .. } => Status::Failed,
            _ => Status::Wrong,
        }
    }
}

/// No file that must not be written over.
pub(crate) const NO_INPUTS: &[(&Path, &str)] = &[];

/// Refuses one file for two things; links to one file are one file.
pub(crate) fn distinct(files: &[(&'static str, Option<&PathBuf>)]) -> Result<(), OutputError> {
    let given: Vec<(&'static str, &PathBuf)> =
        files.iter().filter_map(|(option, path)| Some((*option, (*path)?))).collect();
    for (index, (first, one)) in given.iter().enumerate() {
        for (second, other) in &given[index + 1..] {
            if one == other || is_same_file(one, other) {
                return Err(OutputError::Twice { first, second });
            }
        }
    }
    Ok(())
}

/// Whether two paths lead to one file, there or not.
fn is_same_file(one: &Path, other: &Path) -> bool {
    let real = |path: &Path| {
        fs::canonicalize(path).or_else(|_| {
            let folder = path.parent().filter(|folder| !folder.as_os_str().is_empty());
            let folder = fs::canonicalize(folder.unwrap_or(Path::new(".")))?;
            Ok::<_, io::Error>(folder.join(path.file_name().unwrap_or_default()))
        })
    };
    matches!((real(one), real(other)), (Ok(one), Ok(other)) if one == other)
}

/// Where output goes.
pub(crate) enum Output {
    Standard,
    /// A device or a pipe, written as it is.
    Straight {
        path: PathBuf,
        file: File,
    },
    /// A new file beside the old one, which takes its place at the end.
    Fresh {
        path: PathBuf,
        file: NamedTempFile,
        replaces: bool,
    },
}

impl Output {
    /// Opens the output of `--out`; `inputs` are files that must not be written over, with what they
    /// are.
    pub(crate) fn open(
        out: Option<&Path>,
        inputs: &[(impl AsRef<Path>, &'static str)],
    ) -> Result<Self, OutputError> {
        let Some(path) = out else { return Ok(Self::Standard) };
        Self::open_for("--out", path, inputs)
    }

    /// Opens what an option of the command line names; `inputs` are files that must not be written
    /// over, with what they are.
    pub(crate) fn open_for(
        option: &str,
        path: &Path,
        inputs: &[(impl AsRef<Path>, &'static str)],
    ) -> Result<Self, OutputError> {
        // Opened as a file, standard output would start again at its beginning.
        if path.as_os_str() == "-" || path == Path::new("/dev/stdout") {
            return Ok(Self::Standard);
        }
        let name = || format!("{option} {}", words::quoted::path(path));
        let unopenable = |error: io::Error| OutputError::Unopenable { name: name(), error };
        let old = match fs::metadata(path) {
            Ok(old) => Some(old),
            Err(error) if error.kind() == io::ErrorKind::NotFound => None,
            Err(error) => return Err(unopenable(error)),
        };
        let Some(old) = old else {
            return Self::fresh(path.to_owned(), None).map_err(|error| match path.parent() {
                Some(folder) if error.kind() == io::ErrorKind::NotFound => {
                    OutputError::NoFolder { name: name(), folder: words::quoted::path(folder) }
                }
                _ => unopenable(plainly(error)),
            });
        };
        if old.is_dir() {
            return Err(OutputError::Folder { name: name() });
        }
        // Through links, so that it is the file that is replaced and not the link to it.
        let real = fs::canonicalize(path).map_err(unopenable)?;
        for (read, input) in inputs {
            if fs::canonicalize(read).is_ok_and(|read| read == real) {
                return Err(OutputError::IsTheInput { name: name(), input });
            }
        }
        // Also tells whether the old file may be written; nothing is cut off it yet.
        let file = File::options().write(true).open(path).map_err(unopenable)?;
        if old.is_file() {
            Self::fresh(real, Some(old.permissions())).map_err(|error| unopenable(plainly(error)))
        } else {
            Ok(Self::Straight { path: path.to_owned(), file })
        }
    }

    fn fresh(path: PathBuf, permissions: Option<fs::Permissions>) -> io::Result<Self> {
        let folder = path.parent().filter(|folder| !folder.as_os_str().is_empty());
        let mut builder = tempfile::Builder::new();
        builder.prefix(".eminentia-");
        // Temporary files are private to their owner; this one is to be an ordinary file.
        #[cfg(unix)]
        let ordinary = <fs::Permissions as std::os::unix::fs::PermissionsExt>::from_mode(0o666);
        #[cfg(unix)]
        builder.permissions(ordinary);
        let file = left_behind::made(|| builder.tempfile_in(folder.unwrap_or(Path::new("."))))?;
        let replaces = permissions.is_some();
        if let Some(permissions) = permissions {
            file.as_file().set_permissions(permissions)?;
        }
        Ok(Self::Fresh { path, file, replaces })
    }

    /// Whether it is the terminal or pipe that the program was started on.
    pub(crate) fn is_standard(&self) -> bool {
        matches!(self, Self::Standard)
    }

    /// Writes all that `write` writes, and only then puts a fresh file in its place. Colours are
    /// left out unless a terminal shows them.
    pub(crate) fn write(
        self,
        coloured: bool,
        write: impl FnOnce(&mut dyn Write) -> io::Result<()>,
    ) -> Result<(), OutputError> {
        match self {
            Self::Standard => {
                let out = io::stdout().lock();
                let written =
                    if coloured { buffered(AutoStream::auto(out), write) } else { buffered(out, write) };
                written.map_err(OutputError::standard)
            }
            Self::Straight { path, file } => {
                buffered(AutoStream::never(file), write).map_err(|error| broken(&path, error, false))
            }
            Self::Fresh { path, mut file, replaces } => {
                let made = file.path().to_owned();
                let written = if coloured {
                    buffered(AutoStream::never(file.as_file_mut()), write)
                } else {
                    buffered(file.as_file_mut(), write)
                };
                // On the disk before it has the name, so that a power cut leaves the old file or the new one.
                let placed = written
                    .and_then(|()| file.as_file().sync_all())
                    .and_then(|()| file.persist(&path).map_err(|error| error.error))
                    .map(drop)
                    .map_err(|error| broken(&path, error, replaces));
                left_behind::forget(&made);
                placed
            }
        }
    }
}

/// What the system says, without the name of the unfinished file, which nobody asked for.
fn plainly(error: io::Error) -> io::Error {
    match error.to_string().split_once(" at path ") {
        Some((why, _)) => io::Error::new(error.kind(), why.to_owned()),
        None => error,
    }
}

fn broken(path: &Path, error: io::Error, old_stays: bool) -> OutputError {
    let kept = if old_stays { "; the old file is as it was" } else { "" };
    OutputError::Broken { name: words::quoted::path(path), error, kept }
}

fn buffered<W: Write>(out: W, write: impl FnOnce(&mut dyn Write) -> io::Result<()>) -> io::Result<()> {
    let mut out = BufWriter::with_capacity(BUFFER_BYTES, out);
    write(&mut out)?;
    out.flush()
}
