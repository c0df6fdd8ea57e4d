//! Scenes from files, standard input or the program itself.

use std::borrow::Cow;
use std::fs::{self, File};
use std::io::{self, Read};
use std::path::{Path, PathBuf};

use sim_core::scene::{Scene, SceneError, Senseless, THIRTY_DEGREE};
use sim_core::setting::ChangeError;

use crate::command_line::Changes;
use crate::say;

/// A scene file above this is not one: the largest sensible scene, with recorded profiles on both
/// sides, is a few megabytes.
const MOST_BYTES: u64 = 50_000_000;

/// Where a scene comes from.
#[derive(Clone, Debug)]
pub(crate) enum Source {
    CompiledIn,
    StandardInput,
    File(PathBuf),
}

/// Why there is no scene to work on.
#[derive(Debug, thiserror::Error)]
pub(crate) enum InputError {
    #[error("{name}: no such file; `eminentia scene` prints a scene to start from")]
    Missing { name: String },
    #[error("{name}: is a folder; a scene is a file (RON)")]
    Folder { name: String },
    #[error("{name}: cannot be read: {error}")]
    Unreadable { name: String, error: io::Error },
    #[error("{name}: is larger than {} MB; a scene is a text of a few kB", MOST_BYTES / 1_000_000)]
    TooLarge { name: String },
    #[error(
        "{name}: is not UTF-8 text (first wrong byte: {byte} of {length}, line {line}); a scene is a text file (RON)"
    )]
    NotText { name: String, byte: usize, length: usize, line: usize },
    #[error("{name}:{}:{}: {}", .error.line, .error.column, without_place(.error))]
    Scene { name: String, error: SceneError },
    #[error("--with: {0}")]
    Change(#[from] ChangeError),
    #[error("with the changes made, {0}")]
    Senseless(#[from] Senseless),
}

/// The message of a scene error without the place, which stands before it.
fn without_place(error: &SceneError) -> String {
    let whole = error.to_string();
    let place = format!("line {}, column {}: ", error.line, error.column);
    let message = whole.strip_prefix(&place).unwrap_or(&whole);
    if error.field.is_empty() { message.to_owned() } else { format!("field {message}") }
}

impl Source {
    /// `-` is standard input, nothing is the compiled-in scene.
    pub(crate) fn new(path: Option<&Path>) -> Self {
        match path {
            None => Self::CompiledIn,
            Some(path) if path.as_os_str() == "-" => Self::StandardInput,
            Some(path) => Self::File(path.to_owned()),
        }
    }

    /// How messages call it.
    pub(crate) fn name(&self) -> String {
        match self {
            Self::CompiledIn => "compiled-in scene".to_owned(),
            Self::StandardInput => "standard input".to_owned(),
            Self::File(path) => path.display().to_string(),
        }
    }

    pub(crate) fn path(&self) -> Option<&Path> {
        match self {
            Self::File(path) => Some(path),
            Self::CompiledIn | Self::StandardInput => None,
        }
    }

    /// Reads the scene.
    pub(crate) fn read(&self) -> Result<Scene, InputError> {
        let text = match self {
            Self::CompiledIn => Cow::Borrowed(THIRTY_DEGREE),
            Self::StandardInput => Cow::Owned(self.text_of(io::stdin().lock())?),
            Self::File(path) => Cow::Owned(self.text_of(self.open(path)?)?),
        };
        // Some editors start a text with a mark that RON does not know.
        let text = text.strip_prefix('\u{feff}').unwrap_or(&text);
        let scene = Scene::from_ron(text).map_err(|error| InputError::Scene { name: self.name(), error })?;
        if let Self::CompiledIn = self {
            say::hint(&format_args!(
                "Scene: {}, compiled in. For your own: eminentia scene > mine.ron, eminentia excursion mine.ron",
                scene.title
            ));
        }
        Ok(scene)
    }

    fn open(&self, path: &Path) -> Result<File, InputError> {
        let told = |error: io::Error| match error.kind() {
            io::ErrorKind::NotFound => InputError::Missing { name: self.name() },
            _ => InputError::Unreadable { name: self.name(), error },
        };
        if fs::metadata(path).map_err(told)?.is_dir() {
            return Err(InputError::Folder { name: self.name() });
        }
        File::open(path).map_err(told)
    }

    fn text_of(&self, input: impl Read) -> Result<String, InputError> {
        let name = || self.name();
        let mut bytes = Vec::new();
        input
            .take(MOST_BYTES + 1)
            .read_to_end(&mut bytes)
            .map_err(|error| InputError::Unreadable { name: name(), error })?;
        if bytes.len() as u64 > MOST_BYTES {
            return Err(InputError::TooLarge { name: name() });
        }
        String::from_utf8(bytes).map_err(|error| {
            let (byte, bytes) = (error.utf8_error().valid_up_to(), error.as_bytes());
            let line = 1 + bytes[..byte].iter().filter(|&&byte| byte == b'\n').count();
            InputError::NotText { name: name(), byte: byte + 1, length: bytes.len(), line }
        })
    }
}

impl Changes {
    /// The scene with the changes made.
    pub(crate) fn made_in(&self, mut scene: Scene) -> Result<Scene, InputError> {
        for change in &self.with {
            change.make(&mut scene)?;
        }
        scene.samples = self.samples.unwrap_or(scene.samples);
        scene.check()?;
        // Told only now: a later change may have made an earlier one work.
        for idle in self.with.iter().filter_map(|change| change.idle_because(&scene)) {
            say::warning(&idle);
        }
        Ok(scene)
    }
}
