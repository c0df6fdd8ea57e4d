//! Scenes that the command line names, and the changes that it makes in them.

use std::path::Path;

use files::Source;
use sim_core::scene::{Scene, Senseless, THIRTY_DEGREE};
use sim_core::setting::{Change, ChangeError};

use crate::args::Changes;
use crate::failure::{Failure, Status};
use crate::say;

/// The compiled-in scene with the casts of natural teeth.
pub(crate) const DENTATE: Source = Source::CompiledIn {
    name: "compiled-in dentate pair",
    text: include_str!("../../scenes/dentate_casts.ron"),
};
/// The compiled-in scene with complete dentures.
pub(crate) const COMPLETE_DENTURE: Source = Source::CompiledIn {
    name: "compiled-in complete dentures",
    text: include_str!("../../scenes/denture_casts.ron"),
};

/// Why changes cannot be made.
#[derive(Debug, thiserror::Error)]
pub(crate) enum InputError {
    #[error("--with: {0}")]
    Change(#[from] ChangeError),
    #[error("--with: with the changes made, {0}")]
    Senseless(#[from] Senseless),
}

impl Failure for InputError {
    fn status(&self) -> Status {
        Status::Wrong
    }
}

/// Where a scene comes from; where none is named, it is the compiled-in one.
pub(crate) fn scene_source(path: Option<&Path>) -> Source {
    path.map_or_else(
        || {
            say::hint(&format_args!(
                "Scene: {}, compiled in. For your own: eminentia scene > mine.ron, eminentia excursion mine.ron",
                Scene::thirty_degree().title
            ));
            Source::CompiledIn { name: "compiled-in scene", text: THIRTY_DEGREE }
        },
        Source::named,
    )
}

/// As [`scene_source`], but where none is named, it is the compiled-in one with casts.
pub(crate) fn casts_source(path: Option<&Path>) -> Source {
    path.map_or(DENTATE, Source::named)
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
    for (change, why) in changes.iter().filter_map(|change| Some((change, change.idle_because(&scene)?))) {
        say::warning(&words::verdict::idle::change(change, why));
    }
    Ok(scene)
}
