//! What is kept of a window while it is open, so that changes which were never saved are offered again after
//! a crash, or after the window was closed in the middle of something.
//!
//! A text: where it is kept is for whoever shows the state.

use std::path::PathBuf;

use serde::{Deserialize, Serialize};
use sim_core::scene::Scene;

/// The form of the text. Another form is not read.
const FORM: u32 = 2;

/// A window as it was left.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Session {
    form: u32,
    /// The file that was open.
    pub file: Option<PathBuf>,
    /// The scene as it was edited, as a scene file has it.
    scene: String,
    /// The excursion shown, by its place in the list, and how far along it one stood.
    excursion: usize,
    driven: f64,
    /// The second set-up, B, where there is one.
    beside: Option<String>,
}

/// A session that is offered.
#[derive(Clone, Debug, PartialEq)]
pub struct Offer {
    /// The session.
    pub session: Session,
    /// The title of its scene.
    pub title: String,
    /// How long ago it was left, in words.
    pub left: String,
    /// By which name whoever keeps it knows it.
    pub name: String,
}

impl Session {
    /// A session: the file, its scene as edited, the excursion shown and how far along it one stands, and B.
    #[must_use]
    pub fn new(
        file: Option<PathBuf>,
        scene: &Scene,
        (excursion, driven): (usize, f64),
        beside: Option<&Scene>,
    ) -> Self {
        let (scene, beside) = (scene.to_ron(), beside.map(Scene::to_ron));
        Self { form: FORM, file, scene, excursion, driven, beside }
    }

    /// The text to be kept.
    #[must_use]
    pub fn to_text(&self) -> String {
        serde_json::to_string(self).unwrap_or_default()
    }

    /// Reads a text that was kept; none where it is damaged, or of another form.
    #[must_use]
    pub fn from_text(text: &str) -> Option<(Self, Scene)> {
        let session: Self = serde_json::from_str(text).ok()?;
        let scene = Scene::from_ron(&session.scene).ok()?;
        (session.form == FORM).then_some((session, scene))
    }

    /// Where in its excursions it stood.
    pub(crate) fn place(&self) -> (usize, f64) {
        (self.excursion, self.driven)
    }

    /// The second set-up that was beside it.
    #[must_use]
    pub fn beside(&self) -> Option<Scene> {
        Scene::from_ron(self.beside.as_ref()?).ok()
    }

    /// Its scene.
    #[must_use]
    pub fn scene(&self) -> Option<Scene> {
        Scene::from_ron(&self.scene).ok()
    }
}

/// How long ago something was left, in words.
#[must_use]
pub fn left_ago(minutes: u64) -> String {
    let several = |number: u64, word: &str| {
        if number == 1 { format!("{number} {word} ago") } else { format!("{number} {word}s ago") }
    };
    match minutes {
        0 => "less than a minute ago".to_owned(),
        1..60 => several(minutes, "minute"),
        60..1440 => several(minutes / 60, "hour"),
        _ => several(minutes / 1440, "day"),
    }
}
