//! Doing what a state cannot do by itself, and giving it the answers.

use std::path::Path;

use super::dialog::Dialog;
use super::kept_folder::{self, KeptFolder};
use super::out_files::UnderWay;
use super::{files, whole_file};
use crate::asking::Shelf;
use crate::opened::Request;
use crate::out;
use crate::state::State;

/// What the window has beside its state.
pub(super) struct Native {
    kept: Option<KeptFolder>,
    dialog: Option<Dialog>,
    under_way: Vec<UnderWay>,
}

impl Native {
    /// Finds what is kept on this machine; offers what was left unsaved.
    pub(super) fn begin(state: &mut State) -> Self {
        let kept = KeptFolder::find();
        if let Some(offer) = kept.as_ref().and_then(KeptFolder::left_behind) {
            state.offer(offer);
        }
        let native = Self { kept, dialog: None, under_way: Vec::new() };
        native.fill_shelf(state);
        native
    }

    /// Does what is asked for, and what is asked for in turn.
    pub(super) fn answer(&mut self, state: &mut State, request: Request) {
        let mut next = Some(request);
        while let Some(request) = next.take() {
            next = match request {
                Request::Save { path, replace, then_close } => {
                    save(state, &path, replace, then_close);
                    self.fill_shelf(state);
                    None
                }
                Request::Write { writing, replace } => {
                    if !replace && writing.path.is_file() {
                        state.ask_to_write_over(writing);
                    } else {
                        state.begun_to_write(&writing);
                        self.under_way.push(UnderWay::begin(state, writing));
                    }
                    None
                }
                Request::Browse { to_save } => {
                    let name = state.file.as_deref().and_then(Path::file_name).unwrap_or_default();
                    self.dialog = Some(Dialog::open(to_save, &name.to_string_lossy()));
                    None
                }
                // The command line makes links: here there is no address to put one into.
                Request::Send => None,
                Request::Forget(name) => {
                    if let Some(kept) = &self.kept {
                        kept.forget(&name);
                    }
                    None
                }
                request => {
                    let then = files::answer(state, request);
                    self.fill_shelf(state);
                    then
                }
            };
        }
    }

    /// Whether something is under way that will be answered.
    pub(super) fn awaits(&self) -> bool {
        self.dialog.is_some() || !self.under_way.is_empty()
    }

    /// Looks whether a dialog has been answered. Returns whether it has.
    pub(super) fn look_at_dialog(&mut self, state: &mut State) -> bool {
        let Some(chosen) = self.dialog.as_ref().and_then(Dialog::answered) else { return false };
        self.dialog = None;
        if let Some(request) = state.browsed(chosen) {
            self.answer(state, request);
        }
        true
    }

    /// Looks whether something has been written. Returns whether it has.
    pub(super) fn look_at_what_goes_out(&mut self, state: &mut State) -> bool {
        let mut ended = Vec::new();
        self.under_way.retain(|under_way| match under_way.ended() {
            Some(done) => {
                ended.push(done);
                false
            }
            None => true,
        });
        let any = !ended.is_empty();
        ended.into_iter().for_each(|done| state.went_out(done));
        any
    }

    /// Keeps the session as it stands.
    pub(super) fn keep(&mut self, state: &State) {
        if let Some(kept) = &mut self.kept {
            kept.keep(state.session().as_ref());
        }
    }

    /// The window has closed.
    pub(super) fn close(mut self, state: &State) {
        self.keep(state);
        if let Some(kept) = self.kept {
            kept.close();
        }
    }

    /// The files that are offered for opening.
    fn fill_shelf(&self, state: &mut State) {
        if let (Some(kept), Some(file)) = (&self.kept, &state.file) {
            kept.remember(file);
        }
        state.shelf = Shelf {
            recent: self.kept.as_ref().map(KeptFolder::recent).unwrap_or_default(),
            beside: state.file.as_deref().map(kept_folder::beside).unwrap_or_default(),
        };
    }
}

/// Saves the scene; a file that is there, and is not as this window left it, is only replaced when asked for.
fn save(state: &mut State, path: &Path, replace: bool, then_close: bool) {
    let is_our_own = |there: &[u8]| {
        state
            .last_written
            .as_ref()
            .is_some_and(|(own, fingerprint)| own == path && *fingerprint == ::files::sha256([there]))
    };
    match std::fs::read(path) {
        Ok(there) if !replace && !is_our_own(&there) => {
            let was_ours = state.last_written.as_ref().is_some_and(|(own, _)| own == path);
            let why = if was_ours {
                "Another program has changed this file since it was saved here."
            } else {
                "There is a file of this name. What it says now will be gone, comments and all."
            };
            return state.ask_to_replace(path.to_owned(), why.to_owned(), then_close);
        }
        _ => {}
    }
    let day = ::files::day::today();
    let text = out::scene_text(state, &day);
    match whole_file::write(path, text.as_bytes()) {
        Ok(()) => {
            let beside = out::beside_text(state, &day).map(|text| save_beside(&text, path));
            state.saved(path, ::files::sha256([text.as_bytes()]), beside, then_close);
        }
        Err(error) => state.not_saved(format!("{}: {error}", words::quoted::path(path))),
    }
}

/// Writes B beside A, under a name that no file has; says what became of it.
fn save_beside(text: &str, path: &Path) -> String {
    let mut paths = (1..100).map(|number| path.with_file_name(out::name_of_beside(path, number)));
    let Some(path) = paths.find(|path| !path.exists()) else {
        return "B was not saved: too many files have its name.".to_owned();
    };
    match whole_file::write(&path, text.as_bytes()) {
        Ok(()) => format!("B: {}", words::quoted::path(&path)),
        Err(error) => format!("B was not saved: {}: {error}", words::quoted::path(&path)),
    }
}

#[cfg(test)]
mod tests {
    use sim_core::scene::Scene;

    use super::*;
    use crate::action::Action;
    use crate::asking::{Answer, Asking};

    fn native() -> Native {
        Native { kept: None, dialog: None, under_way: Vec::new() }
    }

    fn act(native: &mut Native, state: &mut State, action: Action) {
        if let Some(request) = state.act(action) {
            native.answer(state, request);
        }
    }

    fn save_as(native: &mut Native, state: &mut State, path: &Path) {
        act(native, state, Action::AskWhereToSave);
        act(native, state, Action::TypePath(path.display().to_string()));
        act(native, state, Action::Answer(Answer::Go));
    }

    #[test]
    fn a_scene_saved_is_read_back_and_a_file_of_others_is_not_overwritten_unasked() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("mine");
        let file = folder.path().join("mine.ron");
        let (mut native, mut state) = (native(), State::open(Scene::thirty_degree()).unwrap());
        act(&mut native, &mut state, Action::Zero);
        save_as(&mut native, &mut state, &path);
        assert_eq!(state.file.as_deref(), Some(file.as_path()));
        assert!(!state.is_changed());
        assert_eq!(files::read(&file).unwrap().scene, state.scene);
        let first = std::fs::read_to_string(&file).unwrap();
        assert!(first.contains("verified on the patient"), "{first}");

        // Its own file, unchanged since: replaced without a question.
        act(&mut native, &mut state, Action::Undo);
        save_as(&mut native, &mut state, &file);
        assert_eq!(state.asking, None);
        assert_eq!(files::read(&file).unwrap().scene, state.scene);

        // Changed by another program meanwhile: asked, and left as it is until the answer.
        std::fs::write(&file, "// mine\n").unwrap();
        act(&mut native, &mut state, Action::Zero);
        save_as(&mut native, &mut state, &file);
        assert!(matches!(state.asking, Some(Asking::Replace { .. })), "{:?}", state.asking);
        assert_eq!(std::fs::read_to_string(&file).unwrap(), "// mine\n");
        act(&mut native, &mut state, Action::Answer(Answer::Go));
        assert_eq!(files::read(&file).unwrap().scene, state.scene);
    }

    #[test]
    fn the_second_set_up_is_saved_beside_the_first_and_over_nothing() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("mine.ron");
        std::fs::write(folder.path().join("mine_b.ron"), "another's").unwrap();
        let (mut native, mut state) = (native(), State::open(Scene::thirty_degree()).unwrap());
        act(&mut native, &mut state, Action::Keep);
        act(&mut native, &mut state, Action::Zero);
        save_as(&mut native, &mut state, &path);
        assert_eq!(files::read(&path).unwrap().scene, state.scene);
        let beside = files::read(&folder.path().join("mine_b_2.ron")).unwrap().scene;
        assert_eq!(beside, Scene::thirty_degree());
        assert_eq!(std::fs::read_to_string(folder.path().join("mine_b.ron")).unwrap(), "another's");
        assert!(state.file_note.as_ref().unwrap().what.contains("mine_b_2.ron"));
    }

    #[test]
    fn where_nothing_can_be_written_the_changes_stay_and_it_is_said() {
        let (mut native, mut state) = (native(), State::open(Scene::thirty_degree()).unwrap());
        act(&mut native, &mut state, Action::Zero);
        let edited = state.scene.clone();
        save_as(&mut native, &mut state, Path::new("/no such folder/mine.ron"));
        assert!(state.file_note.as_ref().unwrap().what.contains("/no such folder/mine.ron"));
        assert!(state.is_changed() && state.scene == edited && !state.done);
    }
}
