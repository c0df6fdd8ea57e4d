//! Opening a file, and reading it again.

use std::path::Path;

use files::Source;

use crate::error::FileError;
use crate::state::{Note, State};

impl State {
    /// Opens a file; a bad one changes nothing but the note.
    pub(super) fn open_file(&mut self, path: &Path) {
        let opened = Source::File(path.to_owned()).read().map_err(FileError::Text).and_then(|scene| {
            Self::open(scene, Some(path.to_owned()))
                .map_err(|source| FileError::Unshowable { file: path.display().to_string(), source })
        });
        match opened {
            Ok(fresh) => {
                let revision = self.shown.revision + 1;
                let same_file = self.file == fresh.file;
                let before = std::mem::replace(self, fresh);
                self.shown.revision = revision;
                self.tied = before.tied;
                self.moving = before.moving;
                if same_file {
                    self.look = before.look;
                    self.casts = before.casts;
                    self.stay_at(&before);
                }
            }
            Err(error) => {
                self.file_note = Some(Note {
                    title: "File not opened",
                    what: error.to_string(),
                    meanwhile: "The scene before it is still shown.",
                });
            }
        }
    }

    /// After a reload: the same excursion, position and cusps, where they still exist.
    pub(super) fn stay_at(&mut self, before: &Self) {
        if self.shown.scene.cusps.len() == before.marks.len() {
            self.marks.clone_from(&before.marks);
        }
        let name = before.shown.course.excursion.movement().name();
        if let Some(number) = self.excursions.iter().position(|own| own.movement().name() == name) {
            self.choose_excursion(number);
            self.at = self.shown.course.nearest(before.stop().driven).min(before.at);
        }
    }
}

#[cfg(test)]
mod tests {
    use sim_core::frame::Side;
    use sim_core::scene::Scene;

    use crate::action::Action;
    use crate::action::testing::{both, named, near, opened};
    use crate::projection::Viewpoint;
    use crate::state::State;

    #[test]
    fn a_file_that_is_no_scene_changes_nothing_but_the_note() {
        let folder = tempfile::tempdir().unwrap();
        let good = folder.path().join("good.ron");
        std::fs::write(&good, Scene::thirty_degree().to_ron()).unwrap();
        let bad = folder.path().join("bad.ron");
        std::fs::write(&bad, "(title: \"no more\"").unwrap();
        let mut state = opened();
        state.act(Action::Open(good.clone()));
        assert_eq!(state.file, Some(good.clone()));
        for wrong in [bad, folder.path().join("absent.ron"), folder.path().to_owned()] {
            state.act(Action::Open(wrong.clone()));
            let note = state.file_note.clone().unwrap();
            assert!(note.what.contains(&wrong.display().to_string()), "{note:?}");
            assert_eq!(state.file, Some(good.clone()));
        }
        state.act(Action::Open(good));
        assert_eq!(state.file_note, None);
    }

    #[test]
    fn a_byte_order_mark_before_the_text_is_no_part_of_it() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("marked.ron");
        std::fs::write(&path, format!("\u{feff}{}", Scene::thirty_degree().to_ron())).unwrap();
        let mut state = opened();
        state.act(Action::Open(path.clone()));
        assert_eq!(state.file_note, None);
        assert_eq!(state.file, Some(path));
    }

    #[test]
    fn reading_the_file_again_keeps_the_look_the_excursion_and_the_place() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("scene.ron");
        let mut scene = Scene::thirty_degree();
        std::fs::write(&path, scene.to_ron()).unwrap();
        let mut state = State::open(scene.clone(), Some(path.clone())).unwrap();
        state.act(Action::Excursion(2));
        state.act(Action::ScrubTo(50));
        state.act(Action::View(Viewpoint::Front));
        named("lateral_angle_deg").set(&mut scene, Side::Right, 22.0).unwrap();
        std::fs::write(&path, scene.to_ron()).unwrap();
        state.act(Action::Reload);
        assert!(near(both(&state, "lateral_angle_deg")[0], 22.0));
        assert_eq!((state.excursion, state.at), (2, 50));
        assert_eq!(state.look.viewpoint, Some(Viewpoint::Front));
    }
}
