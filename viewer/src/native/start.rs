//! From the command line to the first state.

use sim_core::scene::Scene;

use super::arguments::Arguments;
use super::error::{FileError, ViewerError};
use super::{files, shelf};
use crate::action::Action;
use crate::opened::OpenedScene;
use crate::page::Page;
use crate::projection::Viewpoint;
use crate::solved::SolvedExcursion;
use crate::state::State;
use crate::teaching::Teach;

/// The state that the command line describes.
///
/// # Errors
/// [`ViewerError`] for a file that cannot be opened, an excursion that is not there, a position
/// that has no pose.
pub fn state(arguments: &Arguments) -> Result<State, ViewerError> {
    let lesson = arguments.scene.as_ref().filter(|path| files::is_lesson(path));
    let opened = match &arguments.scene {
        Some(path) if lesson.is_none() => files::read(path)?,
        _ => OpenedScene::from(Scene::thirty_degree()),
    };
    let name = arguments
        .scene
        .as_ref()
        .map_or_else(|| "built-in scene".to_owned(), |path| path.display().to_string());
    let mut state = State::open(opened).map_err(|source| FileError::Unshowable { file: name, source })?;
    state.teaching.shelf = shelf::shelf();
    if let Some(path) = lesson {
        state.lesson_read(Ok(shelf::lesson_file(path).map_err(ViewerError::Lesson)?));
    }
    if let Some(name) = &arguments.lesson {
        state.lesson_read(Ok(shelf::lesson(name).map_err(ViewerError::NoSuchLesson)?));
    }
    for _ in 1..arguments.step.unwrap_or(1) {
        state.act(Action::Teach(Teach::Next));
    }
    if arguments.answered {
        state.act(Action::Teach(Teach::Show));
    }
    if arguments.lessons {
        state.act(Action::Teach(Teach::Page));
    }
    if let Some(given) = &arguments.excursion {
        let names = || state.excursions.iter().map(|excursion| excursion.movement().name());
        let Some(number) = names().position(|name| name == given) else {
            let known = names().collect::<Vec<_>>().join(", ");
            return Err(ViewerError::NoSuchExcursion { given: given.clone(), known });
        };
        let solved = SolvedExcursion::solve(state.with_casts(), state.excursions[number])
            .map_err(|no_pose| ViewerError::Unreachable { at: 0.0, source: no_pose.into() })?;
        state.excursion = number;
        state.shown.solved = solved;
        state.shown.revision += 1;
        state.note = state.stopped_note();
    }
    if let Some(at) = arguments.at {
        let excursion = state.excursions[state.excursion];
        let (solved, number) = SolvedExcursion::solve_to(state.with_casts(), excursion, at)
            .map_err(|source| ViewerError::Unreachable { at, source })?;
        state.excursions[state.excursion] = solved.excursion;
        state.shown.solved = solved;
        state.shown.revision += 1;
        state.at = number;
        state.note = state.stopped_note();
    }
    state.moving = arguments.moving;
    look_at_casts(&mut state, arguments)?;
    if arguments.plan {
        state.act(Action::Page(Page::Plan));
    }
    // A lesson's step has a view of its own.
    if state.teaching.course.is_none() || arguments.view != Viewpoint::Oblique {
        state.act(Action::View(arguments.view));
    }
    Ok(state)
}

/// How the casts are to be looked at.
fn look_at_casts(state: &mut State, arguments: &Arguments) -> Result<(), ViewerError> {
    let looks = [
        ("show", arguments.show.map(Action::Show)),
        ("film", arguments.film.map(Action::Film)),
        ("seen", arguments.seen.map(Action::See)),
        ("close", arguments.close.then_some(Action::Close(true))),
        ("section", arguments.section.map(Action::Cut)),
    ];
    for (option, action) in looks {
        let Some(action) = action else { continue };
        if state.shown.mounted.is_none() {
            return Err(ViewerError::NoCasts { option });
        }
        state.act(action);
    }
    let (Some(plane), Some(mounted)) = (arguments.section, &state.shown.mounted) else { return Ok(()) };
    if let Some(given) = arguments.section_at {
        let [least, greatest] = mounted.cut_range_mm(plane);
        if given < least || given > greatest {
            return Err(ViewerError::BesideCasts { given, least, greatest });
        }
        state.act(Action::CutAt(given));
    }
    state.act(Action::Page(Page::Casts));
    Ok(())
}
