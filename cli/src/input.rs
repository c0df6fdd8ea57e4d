//! Scenes and cases from files, standard input or the program itself.

use std::borrow::Cow;
use std::io;
use std::path::{Path, PathBuf};

use sim_core::practice::{Answer, Key};
use sim_core::record::Case;
use sim_core::scene::{Scene, Senseless, THIRTY_DEGREE};
use sim_core::setting::{Change, ChangeError};
use sim_core::text::ReadError;
use study_run::input::{TextError, Wanted, parsed, text_of, text_of_file};

use crate::args::Changes;
use crate::say;

/// What is to be read beside scenes.
const CASE: Wanted =
    Wanted { name: "case", start: "invented cases to start from are in the folder scenes/cases" };
const ANSWER: Wanted =
    Wanted { name: "answer", start: "`eminentia practice deal` writes an empty answer beside the patient" };
const KEY: Wanted =
    Wanted { name: "key", start: "`eminentia practice deal --key FILE` writes it for the teacher" };

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
    #[error(transparent)]
    Text(#[from] TextError),
    #[error("--with: {0}")]
    Change(#[from] ChangeError),
    #[error("with the changes made, {0}")]
    Senseless(#[from] Senseless),
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
        let scene = self.parsed(&self.text(Wanted::SCENE)?, Scene::from_ron)?;
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
        let text = self.text(CASE)?.into_owned();
        Ok((self.parsed(&text, Case::from_ron)?, text))
    }

    /// Reads a student's answer.
    pub(crate) fn read_answer(&self) -> Result<Answer, InputError> {
        self.parsed(&self.text(ANSWER)?, Answer::from_ron)
    }

    /// Reads the key of a deal.
    pub(crate) fn read_key(&self) -> Result<Key, InputError> {
        self.parsed(&self.text(KEY)?, Key::from_ron)
    }

    fn parsed<T>(
        &self,
        text: &str,
        parse: impl FnOnce(&str) -> Result<T, ReadError>,
    ) -> Result<T, InputError> {
        Ok(parsed(text, &self.name(), parse)?)
    }

    fn text(&self, wanted: Wanted) -> Result<Cow<'static, str>, InputError> {
        Ok(match self {
            Self::CompiledIn => Cow::Borrowed(THIRTY_DEGREE),
            Self::Own { text, .. } => Cow::Borrowed(text),
            Self::StandardInput => Cow::Owned(text_of(io::stdin().lock(), &self.name(), wanted)?),
            Self::File(path) => Cow::Owned(text_of_file(path, wanted)?),
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
