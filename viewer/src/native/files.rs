//! Reading what the viewer opens, from this machine's disk.

use std::path::Path;

use super::cases;
use crate::action::Action;
use crate::opened::{OpenedScene, Request};
use crate::reading::{self, FileError, Held};
use crate::state::State;

/// The folder from which a person names files.
fn here() -> &'static Path {
    Path::new("")
}

/// Reads a scene with its casts.
///
/// # Errors
/// [`FileError`] with the file's name, and with line and column where its text is wrong.
pub fn read(path: &Path) -> Result<OpenedScene, FileError> {
    reading::scene(here(), path)
}

/// Reads a file, whatever it holds.
///
/// # Errors
/// As [`read`].
pub fn read_any(path: &Path) -> Result<Held, FileError> {
    reading::any(here(), path)
}

/// Does what a state cannot do by itself and a window is not needed for. What the answer asks for in turn is returned.
pub fn answer(state: &mut State, request: Request) -> Option<Request> {
    match reading::answer(state, request, here())? {
        Request::DrawSeed => return state.act(Action::Deal(cases::drawn_seed())),
        Request::Viva(level) => state.begin_viva(level, cases::drawn_viva_seed()),
        Request::WriteSheet(kind) => {
            let bench = state.bench.clone()?;
            state.written(cases::write_sheet(&bench, kind));
        }
        Request::WriteTemplate(setup) => {
            let written = cases::write_template(&setup, &state.shown.scene.title, state.file.as_deref());
            state.written(written);
        }
        // What is kept between windows, and what goes out of one, is asked of the window.
        request @ (Request::Forget(_)
        | Request::Send
        | Request::Save { .. }
        | Request::Write { .. }
        | Request::Browse { .. }) => return Some(request),
        // Read already.
        Request::Open(_)
        | Request::OpenBeside(_)
        | Request::OpenFor(..)
        | Request::SetUp { .. }
        | Request::Scene(_)
        | Request::Lesson(_) => {}
    }
    None
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
