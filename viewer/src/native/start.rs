//! From the command line to the first state.

use sim_core::account::Number;
use sim_core::cusp::Cusp;
use sim_core::scene::Scene;
use sim_core::setting::Change;

use super::arguments::Arguments;
use super::error::ViewerError;
use super::files;
use crate::action::Action;
use crate::kept::Beside;
use crate::opened::OpenedScene;
use crate::page::{Page, Room};
use crate::plate::Under;
use crate::projection::Viewpoint;
use crate::reading::{FileError, Held, shelf};
use crate::solved::SolvedExcursion;
use crate::state::State;
use crate::teaching::Teach;

/// The state that the command line describes.
///
/// # Errors
/// [`ViewerError`] for a file that cannot be opened, an excursion that is not there, a position
/// that has no pose.
pub fn state(arguments: &Arguments) -> Result<State, ViewerError> {
    let mut state = described(arguments)?;
    arguments.out.look(&mut state);
    Ok(state)
}

fn described(arguments: &Arguments) -> Result<State, ViewerError> {
    let own = || OpenedScene::from(Scene::thirty_degree());
    let (opened, case, lesson) = match &arguments.scene {
        Some(path) => match files::read_any(path)? {
            Held::Scene(opened) => (*opened, None, None),
            Held::Tracing(under) => return with_tracing(*under),
            Held::Case(worked) => (own(), Some((*worked, path.clone())), None),
            Held::Lesson(lesson) => (own(), None, Some(*lesson)),
        },
        None => (own(), None, None),
    };
    let name = arguments
        .scene
        .as_ref()
        .map_or_else(|| "built-in scene".to_owned(), |path| words::quoted::path(path));
    let opened = changed(opened, &arguments.with)?;
    let as_read = opened.as_read;
    let mut state =
        State::open(opened.opened).map_err(|source| FileError::Unshowable { file: name, source })?;
    if let Some(as_read) = as_read {
        // The changes are changes of the file, which has the values from before.
        state.as_read.instrument = as_read.instrument;
        state.as_read.occlusal_plane = as_read.occlusal_plane;
    }
    if case.is_some() || arguments.bench.deals() {
        refuse_for_bench(arguments)?;
    }
    if let Some((worked, path)) = case {
        state.open_case_read(Ok((worked, Some(path))));
    }
    arguments.bench.lay_out(&mut state)?;
    state.teaching.shelf = shelf::shelf();
    if state.room == Room::Bench {
        state.act(Action::View(arguments.view.unwrap_or(Viewpoint::Oblique)));
        return Ok(state);
    }
    if let Some(lesson) = lesson {
        state.lesson_read(Ok(lesson));
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
        state.stand_at(at).map_err(|source| ViewerError::Unreachable { at, source })?;
    }
    state.moving = arguments.moving;
    look_at_casts(&mut state, arguments)?;
    if arguments.plan {
        state.act(Action::Page(Page::Plan));
    }
    if arguments.plate {
        state.act(Action::UsualTracer(true));
        state.act(Action::Page(Page::Tracing));
        state.act(Action::PlateAlone(true));
        state.act(Action::View(arguments.view.unwrap_or(Viewpoint::Above)));
        return Ok(state);
    }
    if let Some(given) = &arguments.why {
        let cusp = cusp_of(&state, given)?;
        state.act(Action::Explain(Number::Clearance(cusp)));
    }
    // A lesson's step has a view of its own.
    if state.teaching.course.is_none() || arguments.view.is_some() {
        state.act(Action::View(arguments.view.unwrap_or(Viewpoint::Oblique)));
    }
    if let Some(path) = &arguments.beside {
        state.beside_read(Ok(files::read(path)?));
    }
    if arguments.side_by_side {
        state.act(Action::Beside(Beside::SideBySide));
    }
    state.act(Action::Spread(arguments.paths));
    state.act(Action::AnglesInPicture(arguments.angles));
    state.act(Action::Arrange(arguments.arrange));
    Ok(state)
}

/// The built-in scene with a recorded tracing under the one that its usual tracer draws.
fn with_tracing(under: Under) -> Result<State, ViewerError> {
    let mut state = State::open(Scene::thirty_degree())
        .map_err(|source| FileError::Unshowable { file: "built-in scene".to_owned(), source })?;
    state.act(Action::UsualTracer(true));
    state.open_tracing_read(Ok(under));
    Ok(state)
}

/// A scene with changes made in it, and as it was before them.
struct Changed {
    opened: OpenedScene,
    as_read: Option<Scene>,
}

fn changed(mut opened: OpenedScene, changes: &[Change]) -> Result<Changed, ViewerError> {
    if changes.is_empty() {
        return Ok(Changed { opened, as_read: None });
    }
    let as_read = opened.scene.clone();
    for change in changes {
        change.make(&mut opened.scene).map_err(|error| ViewerError::Change(error.to_string()))?;
    }
    opened.scene.check().map_err(|error| ViewerError::Change(error.to_string()))?;
    Ok(Changed { opened, as_read: Some(as_read) })
}

/// The place of a cusp that is given as `36:mesiobuccal`, or as `36`.
fn cusp_of(state: &State, given: &str) -> Result<usize, ViewerError> {
    let cusps = &state.shown.scene.cusps;
    let (tooth, name) = given.split_once([':', '.', ' ']).unwrap_or((given, ""));
    let is_meant = |cusp: &Cusp| {
        cusp.tooth().number().to_string() == tooth.trim() && (name.is_empty() || cusp.name() == name.trim())
    };
    cusps.iter().position(is_meant).ok_or_else(|| {
        let known: Vec<String> =
            cusps.iter().map(|cusp| format!("{}:{}", cusp.tooth(), cusp.name())).collect();
        ViewerError::NoSuchCusp { given: given.to_owned(), known: known.join(", ") }
    })
}

/// Options of an instrument say nothing of a case.
fn refuse_for_bench(arguments: &Arguments) -> Result<(), ViewerError> {
    let used = [
        ("excursion", arguments.excursion.is_some()),
        ("at", arguments.at.is_some()),
        ("show", arguments.show.is_some()),
        ("film", arguments.film.is_some()),
        ("seen", arguments.seen.is_some()),
        ("close", arguments.close),
        ("section", arguments.section.is_some()),
        ("plan", arguments.plan),
        ("why", arguments.why.is_some()),
        ("plate", arguments.plate),
        ("lesson", arguments.lesson.is_some()),
        ("lessons", arguments.lessons),
        ("why", arguments.why.is_some()),
        ("beside", arguments.beside.is_some()),
        ("with", !arguments.with.is_empty()),
        ("animation", arguments.out.animation.is_some()),
        ("frames", arguments.out.frames.is_some()),
    ];
    match used.into_iter().find(|(_, is_used)| *is_used) {
        Some((option, _)) => Err(ViewerError::OnTheBench { option }),
        None => Ok(()),
    }
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
