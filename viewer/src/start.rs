//! From the command line to the first state.

use sim_core::scene::Scene;

use crate::action::Action;
use crate::arguments::Arguments;
use crate::course::Course;
use crate::error::{FileError, ViewerError};
use crate::file;
use crate::state::{Shown, State};

/// The state that the command line asks for.
///
/// # Errors
/// [`ViewerError`] for a file that cannot be opened, an excursion that is not there, a position
/// that has no pose.
pub fn state(arguments: &Arguments) -> Result<State, ViewerError> {
    let scene = match &arguments.scene {
        Some(path) => file::read(path)?,
        None => Scene::thirty_degree(),
    };
    let name = arguments
        .scene
        .as_ref()
        .map_or_else(|| "built-in scene".to_owned(), |path| path.display().to_string());
    let mut state = State::open(scene, arguments.scene.clone())
        .map_err(|no_pose| FileError::NoPose { file: name, no_pose })?;
    if let Some(given) = &arguments.excursion {
        let names = || state.excursions.iter().map(|excursion| excursion.movement().name());
        let Some(number) = names().position(|name| name == given) else {
            let known = names().collect::<Vec<_>>().join(", ");
            return Err(ViewerError::NoSuchExcursion { given: given.clone(), known });
        };
        let excursion = state.excursions[number];
        let course = Course::solve(&state.scene, excursion)
            .map_err(|no_pose| ViewerError::Unreachable { at: 0.0, source: no_pose.into() })?;
        state.excursion = number;
        state.shown = Shown { scene: state.scene.clone(), course, revision: state.shown.revision + 1 };
        state.note = state.stopped_note();
    }
    if let Some(at) = arguments.at {
        let excursion = state.excursions[state.excursion];
        let (course, stop) = Course::solve_to(&state.scene, excursion, at)
            .map_err(|source| ViewerError::Unreachable { at, source })?;
        state.excursions[state.excursion] = course.excursion;
        state.shown = Shown { scene: state.scene.clone(), course, revision: state.shown.revision + 1 };
        state.at = stop;
        state.note = state.stopped_note();
    }
    state.moving = arguments.moving;
    state.act(Action::View(arguments.view));
    Ok(state)
}
