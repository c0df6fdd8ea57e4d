//! Reading a scene from its text, and writing it back.

use ron::Options;
use ron::extensions::Extensions;
use ron::ser::PrettyConfig;

use super::{Scene, SceneError};

/// `Table(sagittal_inclination_deg: …)` rather than `Table((sagittal_inclination_deg: …))`, and
/// optional fields without `Some`.
fn options() -> Options {
    Options::default().with_default_extension(Extensions::UNWRAP_VARIANT_NEWTYPES | Extensions::IMPLICIT_SOME)
}

impl Scene {
    /// Reads a scene from its text (RON).
    ///
    /// # Errors
    /// [`SceneError`] with line, column, field, what was given and what is allowed: for text that is
    /// not RON or ends early, unknown, missing or doubled fields, numbers out of range, and scenes
    /// that [`Scene::check`] finds senseless.
    pub fn from_ron(text: &str) -> Result<Self, SceneError> {
        let mut deserializer =
            ron::Deserializer::from_str_with_options(text, &options()).map_err(|error| plain(&error))?;
        let scene: Self = serde_path_to_error::deserialize(&mut deserializer).map_err(|error| {
            let path = error.path().to_string();
            let mut found = plain(&deserializer.span_error(error.into_inner()));
            // `?` is a place that has no name yet, as where the text ends.
            found.field = path.trim_end_matches(['?', '.']).to_owned();
            found
        })?;
        deserializer.end().map_err(|error| plain(&deserializer.span_error(error)))?;
        scene.check().map_err(|error| {
            let (line, column) = place_of(error.field(), text);
            SceneError { line, column, field: String::new(), what: error.to_string() }
        })?;
        Ok(scene)
    }

    /// Writes the scene as text that [`Scene::from_ron`] reads back as the same scene.
    ///
    /// # Panics
    /// Never: every part of a scene has a form in RON.
    #[must_use]
    #[allow(clippy::expect_used)] // writing to memory what the types allow cannot fail
    pub fn to_ron(&self) -> String {
        options().to_string_pretty(self, PrettyConfig::default()).expect("a scene has a form in RON")
    }
}

fn plain(error: &ron::error::SpannedError) -> SceneError {
    let at = error.span.start;
    SceneError { line: at.line, column: at.col, field: String::new(), what: error.code.to_string() }
}

/// Line and column, from 1, of a field's first use; comments are passed over.
fn place_of(field: &str, text: &str) -> (usize, usize) {
    let code = |line: &str| line.split("//").next().unwrap_or_default().to_owned();
    let found = text.lines().map(code).enumerate().find_map(|(row, line)| {
        let before = line.find(field)?;
        Some((row + 1, line[..before].chars().count() + 1))
    });
    found.unwrap_or((1, 1))
}

/// The occlusal plane as the bare angle that a scene file holds.
pub(super) mod occlusal_plane {
    use serde::de::DeserializeSeed as _;
    use serde::{Deserializer, Serialize as _, Serializer};

    use crate::frame::OcclusalPlane;
    use crate::setting::{Checked, OCCLUSAL_PLANE};

    pub(in crate::scene) fn deserialize<'de, D: Deserializer<'de>>(
        deserializer: D,
    ) -> Result<OcclusalPlane, D::Error> {
        Checked::new(&OCCLUSAL_PLANE)
            .deserialize(deserializer)
            .map(|inclination| OcclusalPlane { inclination })
    }

    pub(in crate::scene) fn serialize<S: Serializer>(
        plane: &OcclusalPlane,
        serializer: S,
    ) -> Result<S::Ok, S::Error> {
        plane.inclination.degrees().serialize(serializer)
    }
}
