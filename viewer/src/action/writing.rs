//! What goes out of the window into files.

use std::path::PathBuf;

use crate::asking::Asking;
use crate::opened::Request;
use crate::state::{Note, State};
use crate::writing::{OutKind, WriteCard, Writing};

impl State {
    pub(super) fn ask_what_to_write(&mut self) {
        self.asking = Some(Asking::Write(WriteCard::new(self.file.as_deref())));
    }

    pub(super) fn write_as(&mut self, kind: OutKind) {
        if let Some(Asking::Write(mut card)) = self.asking.take() {
            card.choose(self.file.as_deref(), kind);
            self.asking = Some(Asking::Write(card));
        }
    }

    pub(super) fn type_size(&mut self, typed: String) {
        if let Some(Asking::Write(card)) = &mut self.asking {
            card.size = typed;
        }
    }

    /// Has it written, or says on the card why not.
    pub(super) fn write(&mut self, mut card: WriteCard) -> Option<Request> {
        let possible = card.kind.why_not(self.place).map_or(Ok(()), |why| Err(format!("Not here: {why}.")));
        match possible.and_then(|()| card.writing()) {
            Ok(mut writing) => {
                writing.path = self.place.file(writing.path);
                Some(Request::Write { writing, replace: false })
            }
            Err(problem) => {
                card.problem = Some(problem);
                self.asking = Some(Asking::Write(card));
                None
            }
        }
    }

    /// Takes the answer to [`Request::Write`]: there is such a file.
    pub fn ask_to_write_over(&mut self, writing: Writing) {
        self.asking = Some(Asking::WriteOver(writing));
    }

    /// Takes the answer to [`Request::Write`]: it is being written.
    pub fn begun_to_write(&mut self, writing: &Writing) {
        self.file_note = Some(Note {
            title: "Writing",
            what: words::quoted::path(&writing.path),
            meanwhile: "It is written as the window stands now; go on meanwhile.",
        });
    }

    /// Takes the answer to [`Request::Write`]: where it was written, or why not.
    pub fn went_out(&mut self, written: Result<PathBuf, String>) {
        self.file_note = Some(match written {
            Ok(path) => {
                let kept = "It has the caution in it; keep it with what you hand on.";
                let (title, meanwhile) = self.place.gone_out(kept);
                Note { title, what: words::quoted::path(&path), meanwhile }
            }
            Err(what) => Note { title: "Not written", what, meanwhile: "Nothing was left half written." },
        });
    }
}

#[cfg(test)]
mod tests {
    use std::path::Path;

    use crate::action::Action;
    use crate::action::testing::opened;
    use crate::asking::{Answer, Asking};
    use crate::opened::Request;
    use crate::place::Place;
    use crate::writing::OutKind;

    #[test]
    fn what_is_chosen_and_typed_on_the_card_is_written() {
        let mut state = opened();
        state.act(Action::AskWhatToWrite);
        state.act(Action::WriteAs(OutKind::Animation));
        state.act(Action::TypePath("motion".to_owned()));
        state.act(Action::TypeSize("10x10".to_owned()));
        // Refused on the card, which stays with what was typed.
        assert_eq!(state.act(Action::Answer(Answer::Go)), None);
        let Some(Asking::Write(card)) = &state.asking else { panic!("{:?}", state.asking) };
        assert!(card.problem.as_ref().unwrap().contains("640") && card.path == "motion");
        state.act(Action::TypeSize("800 x 600".to_owned()));
        let Some(Request::Write { writing, replace: false }) = state.act(Action::Answer(Answer::Go)) else {
            panic!("{:?}", state.asking)
        };
        assert_eq!((writing.path.as_path(), writing.size), (Path::new("motion.png"), (800, 600)));
        assert_eq!((writing.kind, &state.asking), (OutKind::Animation, &None));
        // It is there already: asked, and only then replaced.
        state.ask_to_write_over(writing.clone());
        assert_eq!(state.act(Action::Answer(Answer::Go)), Some(Request::Write { writing, replace: true }));
        // Nothing of this is a change of the scene.
        assert!(!state.is_changed() && state.history.depth() == (0, 0));
        state.went_out(Err("motion.png: no room".to_owned()));
        assert!(state.file_note.as_ref().unwrap().what.contains("no room"));
    }

    #[test]
    fn the_card_goes_away_and_writes_nothing() {
        let mut state = opened();
        state.act(Action::AskWhatToWrite);
        state.act(Action::Dismiss);
        assert_eq!(state.asking, None);
        state.act(Action::WriteAs(OutKind::Table));
        state.act(Action::TypeSize("800x600".to_owned()));
        assert_eq!((state.act(Action::Answer(Answer::Go)), state.asking), (None, None));
    }

    #[test]
    fn in_a_page_what_it_cannot_write_is_refused_in_words() {
        let mut state = opened();
        state.place = Place::Page;
        for kind in OutKind::ALL {
            state.act(Action::AskWhatToWrite);
            state.act(Action::WriteAs(kind));
            let request = state.act(Action::Answer(Answer::Go));
            let is_refused = matches!(kind, OutKind::PlotPng | OutKind::Animation | OutKind::Frames);
            assert_eq!(request.is_none(), is_refused, "{kind:?}");
            if let Some(Asking::Write(card)) = &state.asking {
                assert!(card.problem.as_ref().unwrap().contains("a page of a browser"), "{card:?}");
            }
        }
        state.act(Action::WriteSheet(report::sheet::Kind::Pdf));
        state.act(Action::Deal(3));
        // Of a dealt patient no sheet is handed out before its answer.
        assert_eq!(state.act(Action::WriteSheet(report::sheet::Kind::Pdf)), None);
    }
}
