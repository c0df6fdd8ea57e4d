//! Scenes and cases from files, standard input or the program itself.

use std::borrow::Cow;
use std::fs::{self, File};
use std::io::{self, Read};
use std::path::{Path, PathBuf};

use sim_core::practice::{Answer, Key};
use sim_core::record::Case;
use sim_core::scene::{Scene, Senseless, THIRTY_DEGREE};
use sim_core::setting::{Change, ChangeError};
use sim_core::text::ReadError;

use crate::command_line::Changes;
use crate::say;

/// A file above this is no scene or case: the largest sensible scene, with recorded profiles on both
/// sides, is a few megabytes.
const MOST_BYTES: u64 = 50_000_000;

/// What is to be read.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Wanted {
    Scene,
    Case,
    Answer,
    Key,
}

impl Wanted {
    /// `scene`, `case`, `answer` or `key`.
    pub(crate) fn name(self) -> &'static str {
        match self {
            Self::Scene => "scene",
            Self::Case => "case",
            Self::Answer => "answer",
            Self::Key => "key",
        }
    }

    /// Where to start from without one.
    fn start(self) -> &'static str {
        match self {
            Self::Scene => "`eminentia scene` prints a scene to start from",
            Self::Case => "invented cases to start from are in the folder scenes/cases",
            Self::Answer => "`eminentia practice deal` writes an empty answer beside the patient",
            Self::Key => "`eminentia practice deal --key FILE` writes it for the teacher",
        }
    }
}

/// The scenes with invented casts that are compiled in.
const DENTATE: &str = include_str!("../../scenes/dentate_casts.ron");
const COMPLETE_DENTURE: &str = include_str!("../../scenes/denture_casts.ron");

/// Where a scene or a case comes from.
#[derive(Clone, Debug)]
pub(crate) enum Source {
    CompiledIn,
    /// A text of the program's own, and how messages call it.
    Own {
        name: &'static str,
        text: &'static str,
    },
    StandardInput,
    File(PathBuf),
}

/// Why there is nothing to work on.
#[derive(Debug, thiserror::Error)]
pub(crate) enum InputError {
    #[error("{name}: no such file; {}", .wanted.start())]
    Missing { name: String, wanted: Wanted },
    #[error("{name}: is a folder; a {} is a file (RON)", .wanted.name())]
    Folder { name: String, wanted: Wanted },
    #[error("{name}: cannot be read: {error}")]
    Unreadable { name: String, error: io::Error },
    #[error("{name}: is larger than {} MB; a {} is a text of a few kB", MOST_BYTES / 1_000_000, .wanted.name())]
    TooLarge { name: String, wanted: Wanted },
    #[error(
        "{name}: is not UTF-8 text (first wrong byte: {byte} of {length}, line {line}); a {} is a text file (RON)",
        .wanted.name()
    )]
    NotText { name: String, byte: usize, length: usize, line: usize, wanted: Wanted },
    #[error("{name}:{}:{}: {}", .error.line, .error.column, without_place(.error))]
    Unread { name: String, error: ReadError },
    #[error("--with: {0}")]
    Change(#[from] ChangeError),
    #[error("with the changes made, {0}")]
    Senseless(#[from] Senseless),
}

/// The message of a reading error without the place, which stands before it.
fn without_place(error: &ReadError) -> String {
    let whole = error.to_string();
    let place = format!("line {}, column {}: ", error.line, error.column);
    let message = whole.strip_prefix(&place).unwrap_or(&whole);
    if error.field.is_empty() { message.to_owned() } else { format!("field {message}") }
}

impl Source {
    /// The compiled-in scene with the casts of natural teeth.
    pub(crate) const DENTATE: Self = Self::Own { name: "compiled-in dentate pair", text: DENTATE };
    /// The compiled-in scene with complete dentures.
    pub(crate) const COMPLETE_DENTURE: Self =
        Self::Own { name: "compiled-in complete dentures", text: COMPLETE_DENTURE };

    /// As [`Self::new`], but nothing is the compiled-in scene with casts.
    pub(crate) fn of_casts(path: Option<&Path>) -> Self {
        path.map_or(Self::DENTATE, |path| Self::new(Some(path)))
    }

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
            Self::Own { name, .. } => (*name).to_owned(),
            Self::StandardInput => "standard input".to_owned(),
            Self::File(path) => path.display().to_string(),
        }
    }

    pub(crate) fn path(&self) -> Option<&Path> {
        match self {
            Self::File(path) => Some(path),
            Self::CompiledIn | Self::Own { .. } | Self::StandardInput => None,
        }
    }

    /// The folder from which the files that it names are looked for.
    pub(crate) fn folder(&self) -> &Path {
        self.path().and_then(Path::parent).unwrap_or(Path::new(""))
    }

    /// Reads the scene.
    pub(crate) fn read(&self) -> Result<Scene, InputError> {
        let scene = self.parsed(&self.text(Wanted::Scene)?, Scene::from_ron)?;
        if let Self::CompiledIn = self {
            say::hint(&format_args!(
                "Scene: {}, compiled in. For your own: eminentia scene > mine.ron, eminentia excursion mine.ron",
                scene.title
            ));
        }
        Ok(scene)
    }

    /// Reads the case, and gives its text as well.
    pub(crate) fn read_case(&self) -> Result<(Case, String), InputError> {
        let text = self.text(Wanted::Case)?.into_owned();
        Ok((self.parsed(&text, Case::from_ron)?, text))
    }

    /// Reads a student's answer.
    pub(crate) fn read_answer(&self) -> Result<Answer, InputError> {
        self.parsed(&self.text(Wanted::Answer)?, Answer::from_ron)
    }

    /// Reads the key of a deal.
    pub(crate) fn read_key(&self) -> Result<Key, InputError> {
        self.parsed(&self.text(Wanted::Key)?, Key::from_ron)
    }

    fn parsed<T>(
        &self,
        text: &str,
        parse: impl FnOnce(&str) -> Result<T, ReadError>,
    ) -> Result<T, InputError> {
        // Some editors start a text with a mark that RON does not know.
        let text = text.strip_prefix('\u{feff}').unwrap_or(text);
        parse(text).map_err(|error| InputError::Unread { name: self.name(), error })
    }

    fn text(&self, wanted: Wanted) -> Result<Cow<'static, str>, InputError> {
        Ok(match self {
            Self::CompiledIn => Cow::Borrowed(THIRTY_DEGREE),
            Self::Own { text, .. } => Cow::Borrowed(text),
            Self::StandardInput => Cow::Owned(self.text_of(io::stdin().lock(), wanted)?),
            Self::File(path) => Cow::Owned(self.text_of(self.open(path, wanted)?, wanted)?),
        })
    }

    fn open(&self, path: &Path, wanted: Wanted) -> Result<File, InputError> {
        let told = |error: io::Error| match error.kind() {
            io::ErrorKind::NotFound => InputError::Missing { name: self.name(), wanted },
            _ => InputError::Unreadable { name: self.name(), error },
        };
        if fs::metadata(path).map_err(told)?.is_dir() {
            return Err(InputError::Folder { name: self.name(), wanted });
        }
        File::open(path).map_err(told)
    }

    fn text_of(&self, input: impl Read, wanted: Wanted) -> Result<String, InputError> {
        let name = || self.name();
        let mut bytes = Vec::new();
        input
            .take(MOST_BYTES + 1)
            .read_to_end(&mut bytes)
            .map_err(|error| InputError::Unreadable { name: name(), error })?;
        if bytes.len() as u64 > MOST_BYTES {
            return Err(InputError::TooLarge { name: name(), wanted });
        }
        String::from_utf8(bytes).map_err(|error| {
            let (byte, bytes) = (error.utf8_error().valid_up_to(), error.as_bytes());
            let line = 1 + bytes[..byte].iter().filter(|&&byte| byte == b'\n').count();
            InputError::NotText { name: name(), byte: byte + 1, length: bytes.len(), line, wanted }
        })
    }
}

impl Changes {
    /// The scene with the changes made.
    pub(crate) fn made_in(&self, mut scene: Scene) -> Result<Scene, InputError> {
        scene.samples = self.samples.unwrap_or(scene.samples);
        changed(scene, &self.with)
    }
}

/// A scene with changes made in it; one that does nothing there is warned of.
pub(crate) fn changed(mut scene: Scene, changes: &[Change]) -> Result<Scene, InputError> {
    for change in changes {
        change.make(&mut scene)?;
    }
    scene.check()?;
    // Told only now: a later change may have made an earlier one work.
    for idle in changes.iter().filter_map(|change| change.idle_because(&scene)) {
        say::warning(&idle);
    }
    Ok(scene)
}
