//! Cards in the middle of the window, and what comes of their answers.

use std::path::{Path, PathBuf};

use crate::asking::{Answer, Asking};
use crate::opened::{OpenedScene, Request};
use crate::session::{Offer, Session};
use crate::state::{Note, State};

/// How a file of a scene ends.
const ENDING: &str = "ron";

impl State {
    /// Whether there is something that no file has. While a lesson is given, that is asked of the person's own
    /// set-up.
    #[must_use]
    pub fn is_changed(&self) -> bool {
        let of = self.own.as_deref().unwrap_or(self);
        of.scene != of.as_read
    }

    /// What is kept of the window; none where nothing has been changed.
    #[must_use]
    pub fn session(&self) -> Option<Session> {
        // A lesson comes back by itself; what a person made is kept.
        let own = self.own.as_deref().unwrap_or(self);
        let beside = own.kept.as_ref().map(|kept| &kept.set_up.scene);
        let place = (own.excursion, own.sample().driven);
        own.is_changed().then(|| Session::new(own.file.clone(), &own.scene, place, beside))
    }

    pub(super) fn ask_what_to_open(&mut self) {
        self.asking = Some(Asking::Open(String::new()));
    }

    pub(super) fn ask_where_to_save(&mut self, then_close: bool) {
        let path = self.suggested_path().display().to_string();
        self.asking = Some(Asking::Save { path, then_close });
    }

    /// The file itself where this window has written it before; else a new name beside it, so that what a
    /// teacher has written into a file, comments and all, stays as it is.
    fn suggested_path(&self) -> PathBuf {
        match (&self.file, &self.last_written) {
            (Some(file), Some((written, _))) if file == written => file.clone(),
            (Some(file), _) => {
                let stem = file.file_stem().unwrap_or_default().to_string_lossy();
                file.with_file_name(format!("{stem}_changed.{ENDING}"))
            }
            (None, _) => PathBuf::from(format!("my_scene.{ENDING}")),
        }
    }

    /// The path on the card, as it is typed.
    pub(super) fn type_path(&mut self, typed: String) {
        if let Some(Asking::Open(path) | Asking::Save { path, .. }) = &mut self.asking {
            *path = typed;
        } else if let Some(Asking::Write(card)) = &mut self.asking {
            card.path = typed;
        }
    }

    pub(super) fn answer(&mut self, answer: Answer) -> Option<Request> {
        let asking = self.asking.take()?;
        match (asking, answer) {
            (Asking::Open(path), Answer::Go) if !path.trim().is_empty() => {
                Some(Request::Open(PathBuf::from(path.trim())))
            }
            (Asking::Open(path), Answer::Beside) if !path.trim().is_empty() => {
                Some(Request::OpenBeside(PathBuf::from(path.trim())))
            }
            (Asking::Open(_), Answer::ThisBeside(path)) => Some(Request::OpenBeside(path)),
            (Asking::Open(_), Answer::This(path)) => Some(Request::Open(path)),
            (Asking::Save { path, then_close }, Answer::Go) if !path.trim().is_empty() => {
                let path = self.place.file(with_ending(path.trim()));
                Some(Request::Save { path, replace: false, then_close })
            }
            (Asking::Replace { path, then_close, .. }, Answer::Go) => {
                Some(Request::Save { path, replace: true, then_close })
            }
            (Asking::Write(card), Answer::Go) => self.write(card),
            (Asking::WriteOver(writing), Answer::Go) => Some(Request::Write { writing, replace: true }),
            (asked @ (Asking::Open(_) | Asking::Save { .. }), Answer::Browse) => {
                let request = Request::Browse { to_save: matches!(asked, Asking::Save { .. }) };
                self.asking = Some(asked);
                Some(request)
            }
            (Asking::Close, Answer::SaveFirst) => {
                self.ask_where_to_save(true);
                None
            }
            (Asking::Close, Answer::Go) => {
                self.done = true;
                None
            }
            (Asking::TakeUp(offer), Answer::Go) => {
                // Its file is opened first, so that its casts are there and the file's values are known.
                match offer.session.file.clone() {
                    Some(file) => Some(Request::OpenFor(file, offer)),
                    None => {
                        let opened = Ok(OpenedScene::from(sim_core::scene::Scene::thirty_degree()));
                        self.take_up(opened, &offer)
                    }
                }
            }
            (Asking::TakeUp(offer), Answer::Discard) => Some(Request::Forget(offer.name)),
            (asked, _) => {
                self.asking = Some(asked);
                None
            }
        }
    }

    /// Closes the window, or asks first where something would be left unsaved. A page is closed by its browser.
    pub(super) fn close(&mut self) {
        if self.place.is_page() {
            self.file_note = Some(Note {
                title: "The browser closes this page",
                what: "Close its tab. Changes that are not saved stay in this browser, and are offered when the page \
                       is opened again."
                    .to_owned(),
                meanwhile: "Nothing has been closed.",
            });
        } else if self.is_changed() && self.asking != Some(Asking::Close) {
            self.asking = Some(Asking::Close);
        } else {
            self.done = true;
        }
    }

    /// Offers what was left unsaved the last time.
    pub fn offer(&mut self, offer: Offer) {
        self.asking = Some(Asking::TakeUp(Box::new(offer)));
    }

    /// Takes the answer to [`Request::OpenFor`]: the file that a session was about, and the session's changes
    /// on it as one change.
    pub fn take_up(&mut self, read: Result<OpenedScene, String>, offer: &Offer) -> Option<Request> {
        let scene = offer.session.scene()?;
        match read {
            Ok(opened) => self.open_read(Ok(opened)),
            Err(why) => {
                // What was edited is there all the same, without its file.
                self.open_read(Ok(OpenedScene::from(scene.clone())));
                self.file_note = Some(Note {
                    title: "The file of these changes was not opened",
                    what: why,
                    meanwhile: "The changes are shown without it; save them under a name.",
                });
            }
        }
        let left = self.moment();
        self.edit(|edited, _| {
            *edited = scene;
            Ok(())
        });
        self.remember(left, None);
        let (excursion, driven) = offer.session.place();
        if excursion < self.excursions.len() {
            self.choose_excursion(excursion);
            self.at = self.shown.solved.nearest(driven);
        }
        if let Some(beside) = offer.session.beside() {
            self.beside_read(Ok(OpenedScene::from(beside)));
        }
        self.keep_up();
        Some(Request::Forget(offer.name.clone()))
    }

    /// Takes the answer to [`Request::Browse`]: a file, or none where none was chosen.
    pub fn browsed(&mut self, chosen: Option<PathBuf>) -> Option<Request> {
        match (self.asking.take(), chosen) {
            (Some(Asking::Open(_)), Some(path)) => Some(Request::Open(path)),
            (Some(Asking::Save { then_close, .. }), Some(path)) => {
                let path = with_ending(&path.to_string_lossy());
                Some(Request::Save { path, replace: false, then_close })
            }
            (asked, _) => {
                self.asking = asked;
                None
            }
        }
    }

    /// Takes the answer to [`Request::Save`]: the scene is in this file, as the text of this fingerprint; what
    /// became of B, if there is one.
    pub fn saved(&mut self, path: &Path, fingerprint: String, beside: Option<String>, then_close: bool) {
        let was = self.moment();
        self.as_read = self.scene.clone();
        self.file = Some(path.to_owned());
        self.last_written = Some((path.to_owned(), fingerprint));
        let now = self.moment();
        self.history.saved(&was, &now);
        let title = if self.place.is_page() {
            "Handed to the browser, which keeps it among its downloads"
        } else {
            "Saved"
        };
        self.file_note = Some(Note {
            title,
            what: format!(
                "{}{}",
                words::quoted::path(path),
                beside.map(|b| format!("\n{b}")).unwrap_or_default()
            ),
            meanwhile: "Comments of a file that was opened are not copied.",
        });
        self.done = then_close;
    }

    /// Takes the answer to [`Request::Save`]: it was not saved.
    pub fn not_saved(&mut self, why: String) {
        self.file_note =
            Some(Note { title: "Not saved", what: why, meanwhile: "The changes are still here, unsaved." });
    }

    /// Takes the answer to [`Request::Save`]: there is such a file.
    pub fn ask_to_replace(&mut self, path: PathBuf, why: String, then_close: bool) {
        self.asking = Some(Asking::Replace { path, why, then_close });
    }

    /// The scene after the one that is open, or before it, in its folder.
    pub(super) fn scene_after(&mut self, by: isize) -> Option<Request> {
        let beside = &self.shelf.beside;
        let place = self.file.as_ref().and_then(|file| beside.iter().position(|other| other == file));
        #[allow(clippy::cast_possible_wrap, reason = "files of a folder")]
        let next = match place {
            Some(place) => (place as isize + by).rem_euclid(beside.len() as isize).unsigned_abs(),
            None => 0,
        };
        match beside.get(next) {
            Some(path) => Some(Request::Open(path.clone())),
            None => {
                self.file_note = Some(Note {
                    title: "No other scene",
                    what: "There is no other scene beside this one. Ctrl+O opens a file.".to_owned(),
                    meanwhile: "The scene is still shown.",
                });
                None
            }
        }
    }
}

/// A path with the ending of a scene's file where none was given.
fn with_ending(path: &str) -> PathBuf {
    let path = PathBuf::from(path);
    if path.extension().is_some() { path } else { path.with_extension(ENDING) }
}

#[cfg(test)]
mod tests {
    use std::path::{Path, PathBuf};

    use sim_core::frame::Side;
    use sim_core::guide::CondylarGuide;
    use sim_core::scene::Scene;
    use sim_core::setting::Setting;

    use crate::action::Action;
    use crate::action::testing::opened;
    use crate::asking::{Answer, Asking, Shelf};
    use crate::opened::{OpenedScene, Request};
    use crate::place::Place;
    use crate::session::{Offer, Session};
    use crate::state::State;

    fn changed() -> State {
        let mut state = opened();
        let inclination = Setting::Guide(&CondylarGuide::HORIZONTAL_INCLINATION);
        state.act(Action::Set(inclination, Side::Right, 41.5));
        state
    }

    #[test]
    fn closing_asks_where_something_is_unsaved_and_only_there() {
        let mut state = opened();
        state.act(Action::Quit);
        assert!(state.done);

        let mut state = changed();
        state.act(Action::Quit);
        assert_eq!((state.done, &state.asking), (false, &Some(Asking::Close)));
        state.act(Action::Dismiss);
        assert_eq!((state.done, &state.asking), (false, &None));
        // Asked for twice, it closes.
        state.act(Action::Quit);
        state.act(Action::Quit);
        assert!(state.done);
    }

    #[test]
    fn saving_before_closing_closes_once_it_is_saved() {
        let mut state = changed();
        state.act(Action::Quit);
        state.act(Action::Answer(Answer::SaveFirst));
        state.act(Action::TypePath("mine".to_owned()));
        let request = state.act(Action::Answer(Answer::Go)).unwrap();
        let path = PathBuf::from("mine.ron");
        assert_eq!(request, Request::Save { path: path.clone(), replace: false, then_close: true });
        assert!(!state.done);
        state.saved(&path, String::new(), None, true);
        assert!(state.done && !state.is_changed());
    }

    #[test]
    fn a_file_of_somebody_elses_is_not_the_first_name_offered() {
        let mut state = changed();
        state.file = Some("lecture/steep.ron".into());
        state.act(Action::AskWhereToSave);
        let Some(Asking::Save { path, .. }) = &state.asking else { panic!("{:?}", state.asking) };
        assert_eq!(Path::new(path), Path::new("lecture/steep_changed.ron"));
        // What this window has written is.
        state.saved(Path::new("lecture/steep_changed.ron"), String::new(), None, false);
        state.act(Action::AskWhereToSave);
        let Some(Asking::Save { path, .. }) = &state.asking else { panic!("{:?}", state.asking) };
        assert_eq!(Path::new(path), Path::new("lecture/steep_changed.ron"));
    }

    #[test]
    fn undo_goes_on_past_a_save_and_the_file_stays() {
        let mut state = changed();
        let edited = state.scene.clone();
        let before = state.as_read.clone();
        state.saved(Path::new("mine.ron"), String::new(), None, false);
        assert!(!state.is_changed());
        state.act(Action::Undo);
        assert_eq!((&state.scene, &state.as_read), (&before, &edited));
        assert_eq!(state.file.as_deref(), Some(Path::new("mine.ron")));
        assert!(state.is_changed());
    }

    #[test]
    fn an_unsaved_session_is_taken_up_as_one_change_of_its_file() {
        let state = changed();
        let text = state.session().unwrap().to_text();
        let (session, scene) = Session::from_text(&text).unwrap();
        assert_eq!(scene, state.scene);
        let offer = Offer {
            session,
            title: scene.title.clone(),
            left: "a while ago".to_owned(),
            name: "1".to_owned(),
        };
        let mut fresh = opened();
        fresh.offer(offer.clone());
        let request = fresh.act(Action::Answer(Answer::Go));
        assert_eq!(request, Some(Request::Forget("1".to_owned())));
        assert_eq!(fresh.scene, state.scene);
        fresh.act(Action::Undo);
        assert_eq!(fresh.scene, fresh.as_read);
        // Nothing is kept of a window without changes, and nothing is read of a damaged text.
        assert_eq!(fresh.session(), None);
        assert!(Session::from_text(&text[..text.len() / 2]).is_none());

        // Its file is gone: what was edited is there all the same.
        let mut offer = offer;
        offer.session.file = Some("gone.ron".into());
        let mut fresh = opened();
        fresh.offer(offer.clone());
        let request = fresh.act(Action::Answer(Answer::Go));
        assert_eq!(request, Some(Request::OpenFor("gone.ron".into(), Box::new(offer.clone()))));
        fresh.take_up(Err("gone.ron: no such file".to_owned()), &offer);
        assert_eq!(fresh.scene, state.scene);
        assert!(fresh.file_note.unwrap().what.contains("gone.ron"));
    }

    #[test]
    fn the_next_scene_of_the_folder_comes_by_a_key_and_the_last_goes_round() {
        let mut state = opened();
        assert_eq!(state.act(Action::SceneAfter(1)), None);
        assert!(state.file_note.is_some());
        let shelf: Vec<PathBuf> = ["a.ron", "b.ron", "c.ron"].map(PathBuf::from).into();
        let file = Some(shelf[2].clone());
        state.open_read(Ok(OpenedScene { scene: Scene::thirty_degree(), scans: None, file }));
        state.shelf = Shelf { beside: shelf.clone(), ..Shelf::default() };
        assert_eq!(state.act(Action::SceneAfter(1)), Some(Request::Open(shelf[0].clone())));
        assert_eq!(state.act(Action::SceneAfter(-1)), Some(Request::Open(shelf[1].clone())));
    }

    #[test]
    fn an_empty_name_opens_and_saves_nothing() {
        let mut state = changed();
        for ask in [Action::AskWhatToOpen, Action::AskWhereToSave] {
            state.act(ask);
            state.act(Action::TypePath("  ".to_owned()));
            assert_eq!(state.act(Action::Answer(Answer::Go)), None);
            assert!(state.asking.is_some());
            state.act(Action::Dismiss);
        }
    }

    #[test]
    fn in_a_page_a_name_is_enough_and_the_browser_closes() {
        let mut state = changed();
        state.place = Place::Page;
        state.act(Action::AskWhereToSave);
        state.act(Action::TypePath("lecture/mine".to_owned()));
        let request = state.act(Action::Answer(Answer::Go)).unwrap();
        let path = PathBuf::from("mine.ron");
        assert_eq!(request, Request::Save { path: path.clone(), replace: false, then_close: false });
        state.act(Action::Quit);
        assert!(!state.done && state.asking.is_none());
        assert!(state.file_note.as_ref().unwrap().title.contains("browser"));
        state.saved(&path, String::new(), None, false);
        assert!(state.file_note.as_ref().unwrap().title.contains("downloads") && !state.is_changed());
        // Where it is shown stays, whatever is opened, and in a lesson and after it.
        state.open_read(Ok(Scene::thirty_degree().into()));
        assert_eq!(state.place, Place::Page);
        state.begin_viva(sim_core::viva::VivaLevel::First, 1);
        assert_eq!(state.place, Place::Page);
        state.open_read(Ok(Scene::thirty_degree().into()));
        assert_eq!(state.place, Place::Page);
    }
}
