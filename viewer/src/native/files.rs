//! Reading what the viewer opens: a scene's file and the files of its casts.

use std::path::Path;
use std::sync::Arc;

use files::cast::CastFileError;
use files::{CaseOrScene, Source};
use report::case::WorkedCase;
use sim_core::cusp::Arch;
use sim_core::scene::Scene;

use super::error::FileError;
use super::{cases, shelf};
use crate::action::Action;
use crate::casts::Scans;
use crate::opened::{OpenedScene, Request};
use crate::plate::Under;
use crate::state::State;

/// Reads a scene with its casts.
///
/// # Errors
/// [`FileError`] with the file's name, and with line and column where its text is wrong.
pub fn read(path: &Path) -> Result<OpenedScene, FileError> {
    let source = Source::File(path.to_owned());
    let scene = source.read().map_err(FileError::Text)?;
    let scans = scans(&scene, source.folder())
        .map_err(|error| FileError::Cast { file: source.name(), source: Box::new(error) })?;
    Ok(OpenedScene { scene, scans: scans.map(Arc::new), file: Some(path.to_owned()) })
}

/// The casts that a scene names, from its own folder; `None` where it names none.
fn scans(scene: &Scene, folder: &Path) -> Result<Option<Scans>, CastFileError> {
    let Some(casts) = &scene.casts else { return Ok(None) };
    let mut notes = Vec::new();
    let mut read = |file: &str, arch| {
        let path = folder.join(file);
        let name = path.display().to_string();
        let cast = files::cast::read(&path, arch, casts.unit)?;
        notes.extend(cast.warnings().into_iter().map(|warning| format!("{name}: {warning}")));
        Ok::<_, CastFileError>((cast.surface, name))
    };
    let (upper, upper_name) = read(&casts.upper, Arch::Upper)?;
    let (lower, lower_name) = read(&casts.lower, Arch::Lower)?;
    Ok(Some(Scans { surfaces: [upper, lower], names: [upper_name, lower_name], notes }))
}

/// What a file holds.
pub enum Held {
    /// A scene.
    Scene(Box<OpenedScene>),
    /// A case.
    Case(Box<WorkedCase>),
    /// A tracing.
    Tracing(Box<Under>),
}

/// Reads a file, whatever it holds.
///
/// # Errors
/// As [`read`].
pub fn read_any(path: &Path) -> Result<Held, FileError> {
    let source = Source::File(path.to_owned());
    let ending = path.extension().map(|ending| ending.to_string_lossy().to_lowercase());
    match ending.as_deref() {
        Some("csv") => return tracing(&source).map(|under| Held::Tracing(Box::new(under))),
        Some("png" | "jpg" | "jpeg") => return Err(FileError::Photo { file: source.name() }),
        _ => {}
    }
    match files::case_or_scene(&source).map_err(FileError::Text)? {
        (text, CaseOrScene::Case(case)) => {
            Ok(Held::Case(Box::new(cases::worked(*case, &source.name(), &text)?)))
        }
        (_, CaseOrScene::Scene(_)) => read(path).map(|opened| Held::Scene(Box::new(opened))),
    }
}

/// Whether a file holds a lesson, or what is nearly one.
pub(super) fn is_lesson(path: &Path) -> bool {
    Source::File(path.to_owned()).text::<Scene>().is_ok_and(|text| files::is_lesson(&text))
}

/// Reads the points of a tracing, and examines it.
fn tracing(source: &Source) -> Result<Under, FileError> {
    let bytes = files::tracing::bytes(source).map_err(FileError::Tracing)?;
    let recorded = files::tracing::from_points(&bytes, &source.name()).map_err(FileError::Tracing)?;
    Under::of(source.name(), recorded)
        .map_err(|source_error| FileError::Unexamined { file: source.name(), source: Box::new(source_error) })
}

/// Does what a state cannot do by itself and a window is not needed for.
pub fn answer(state: &mut State, request: Request) {
    match request {
        Request::SetUp { scene, beside } => {
            let folder = beside.as_deref().and_then(Path::parent).unwrap_or(Path::new(""));
            let scans = scans(&scene, folder);
            let opened =
                scans.map(|scans| OpenedScene { scene: *scene, scans: scans.map(Arc::new), file: None });
            state.open_read(opened.map_err(|error| error.to_string()));
        }
        Request::DrawSeed => {
            if let Some(request) = state.act(Action::Deal(cases::drawn_seed())) {
                answer(state, request);
            }
        }
        Request::WriteSheet(kind) => {
            let Some(bench) = &state.bench else { return };
            let written = cases::write_sheet(&bench.worked, bench.file.as_deref(), kind);
            state.written(written);
        }
        Request::Open(path) if is_lesson(&path) => {
            state.lesson_read(shelf::lesson_file(&path).map_err(|error| error.to_string()));
        }
        Request::Scene(name) => state.open_read(shelf::scene(&name)),
        Request::Lesson(name) => state.lesson_read(shelf::lesson(&name)),
        Request::Viva(level) => state.begin_viva(level, shelf::drawn_seed()),
        Request::WriteTemplate(setup) => {
            let written = cases::write_template(&setup, &state.shown.scene.title, state.file.as_deref());
            state.written(written);
        }
        Request::Open(path) => match read_any(&path) {
            Ok(Held::Scene(scene)) => state.open_read(Ok(*scene)),
            Ok(Held::Tracing(under)) => state.open_tracing_read(Ok(*under)),
            Ok(Held::Case(worked)) => state.open_case_read(Ok((*worked, Some(path)))),
            Err(error) => state.open_read(Err(error.to_string())),
        },
        // What is kept between windows is asked of the window.
        Request::OpenBeside(_)
        | Request::OpenFor(..)
        | Request::Save { .. }
        | Request::Write { .. }
        | Request::Browse { .. }
        | Request::Forget(_) => {}
    }
}

/// Opens a file as a second set-up beside what is shown.
pub fn open_beside(state: &mut State, path: &Path) {
    state.beside_read(read(path).map_err(|error| error.to_string()));
}

#[cfg(test)]
mod tests {
    use sim_core::frame::Side;
    use sim_core::scene::Scene;
    use sim_core::setting::Setting;

    use super::{answer, read};
    use crate::action::Action;
    use crate::projection::Viewpoint;
    use crate::state::State;

    /// What the window does with an action.
    fn act(state: &mut State, action: Action) {
        if let Some(request) = state.act(action) {
            answer(state, request);
        }
    }

    fn lateral_angle() -> Setting {
        Setting::Guide(&sim_core::guide::CondylarGuide::LATERAL_ANGLE)
    }

    #[test]
    fn a_file_that_is_no_scene_changes_nothing_but_the_note() {
        let folder = tempfile::tempdir().unwrap();
        let good = folder.path().join("good.ron");
        std::fs::write(&good, Scene::thirty_degree().to_ron()).unwrap();
        let bad = folder.path().join("bad.ron");
        std::fs::write(&bad, "(title: \"no more\"").unwrap();
        let mut state = State::open(Scene::thirty_degree()).unwrap();
        act(&mut state, Action::Open(good.clone()));
        assert_eq!(state.file, Some(good.clone()));
        for wrong in [bad, folder.path().join("absent.ron"), folder.path().to_owned()] {
            act(&mut state, Action::Open(wrong.clone()));
            let note = state.file_note.clone().unwrap();
            assert!(note.what.contains(&wrong.display().to_string()), "{note:?}");
            assert_eq!(state.file, Some(good.clone()));
        }
        act(&mut state, Action::Open(good));
        assert_eq!(state.file_note, None);
    }

    #[test]
    fn a_byte_order_mark_before_the_text_is_no_part_of_it() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("marked.ron");
        std::fs::write(&path, format!("\u{feff}{}", Scene::thirty_degree().to_ron())).unwrap();
        let mut state = State::open(Scene::thirty_degree()).unwrap();
        act(&mut state, Action::Open(path.clone()));
        assert_eq!(state.file_note, None);
        assert_eq!(state.file, Some(path));
    }

    #[test]
    fn reading_the_file_again_keeps_the_look_the_excursion_and_the_place() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("scene.ron");
        let mut scene = Scene::thirty_degree();
        std::fs::write(&path, scene.to_ron()).unwrap();
        let mut state = State::open(read(&path).unwrap()).unwrap();
        act(&mut state, Action::Excursion(2));
        act(&mut state, Action::ScrubTo(50));
        act(&mut state, Action::View(Viewpoint::Front));
        lateral_angle().set(&mut scene, Side::Right, 22.0).unwrap();
        std::fs::write(&path, scene.to_ron()).unwrap();
        act(&mut state, Action::Reload);
        assert!((lateral_angle().get(&state.scene, Side::Right).unwrap() - 22.0).abs() < 1e-9);
        assert_eq!((state.excursion, state.at), (2, 50));
        assert_eq!(state.look.viewpoint, Some(Viewpoint::Front));
    }
}
