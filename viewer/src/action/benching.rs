//! A case on the bench: opened, dealt, worked at, left with its sheet or its set-up.

use std::path::PathBuf;
use std::sync::Arc;

use report::case::WorkedCase;
use report::sheet::Kind;

use crate::action::Action;
use crate::bench::{BenchAct, OnBench, Refusal};
use crate::opened::Request;
use crate::page::Room;
use crate::projection::{Look, Viewpoint};
use crate::state::{Note, State};

/// What is shown while nothing has changed.
const AS_BEFORE: &str = "The bench stands as it did.";

impl State {
    /// Takes the answer to [`Request::Open`] where the file holds a case: it lies on the bench. A case that could not
    /// be read or worked through changes nothing but the note.
    pub fn open_case_read(&mut self, read: Result<(WorkedCase, Option<PathBuf>), String>) {
        let left = self.moment();
        match read {
            Ok((worked, file)) => {
                let again =
                    self.bench.as_ref().is_some_and(|bench| bench.file.is_some() && bench.file == file);
                self.lay_on_bench(OnBench::of_case(worked, file), again);
                self.remember(left, None);
            }
            Err(what) => self.file_note = Some(not_opened(what)),
        }
        self.keep_up();
    }

    /// Takes the answer to a request to write a file: where it was written, or why not.
    pub fn written(&mut self, written: Result<PathBuf, String>) {
        self.file_note = Some(match written {
            Ok(path) => {
                let (title, meanwhile) =
                    self.place.gone_out("No file that was there before has been written over.");
                Note { title, what: words::quoted::path(&path), meanwhile }
            }
            Err(what) => Note { title: "Not written", what, meanwhile: AS_BEFORE },
        });
    }

    fn lay_on_bench(&mut self, bench: OnBench, again: bool) {
        self.bench = Some(Arc::new(bench));
        self.file_note = None;
        if !again || self.room != Room::Bench {
            self.go_to_room(Room::Bench);
        }
    }

    pub(super) fn go_to_room(&mut self, room: Room) {
        self.room = room;
        self.playing = false;
        self.look = Look::at(Viewpoint::Oblique, self.bounds(Viewpoint::Oblique));
    }

    /// What an action comes to in the room that one is in: at the bench a key that both rooms know is the bench's, one
    /// that would change or move the instrument out of sight is refused, and a page of the instrument is gone to.
    pub(super) fn in_this_room(&mut self, action: Action) -> Option<Action> {
        if self.room == Room::Instrument {
            return Some(action);
        }
        let tied = self.bench.as_ref().is_some_and(|bench| bench.tied);
        match action {
            Action::Zero => Some(Action::Bench(BenchAct::Zero)),
            Action::Tie(tied) => Some(Action::Bench(BenchAct::Tie(tied))),
            Action::SwapTied => Some(Action::Bench(BenchAct::Tie(!tied))),
            Action::Page(_) | Action::Teach(_) | Action::Explain(_) | Action::ExplainMarked => {
                self.go_to_room(Room::Instrument);
                Some(action)
            }
            // A click on the picture picks nothing here.
            Action::Pick(..) => None,
            Action::PlayOrPause
            | Action::Step(_)
            | Action::ScrubTo(_)
            | Action::Excursion(_)
            | Action::ExcursionAfter(_)
            | Action::Move(_)
            | Action::SwapMoving
            | Action::Set(..)
            | Action::Choose(..)
            | Action::BackToFile
            | Action::Show(_)
            | Action::ShowNext
            | Action::See(_)
            | Action::SeeNext
            | Action::Film(_)
            | Action::Close(_)
            | Action::SwapClose
            | Action::SwapPage
            | Action::Arrange(_)
            | Action::ArrangeNext
            | Action::Keep
            | Action::KeepWithFacebowError
            | Action::SwapKept
            | Action::Cut(_)
            | Action::CutAt(_)
            | Action::ApplyPlan
            | Action::TakePlanBack => {
                self.note_refused("That is a key of the instrument; Y goes there.".to_owned());
                None
            }
            other => Some(other),
        }
    }

    pub(super) fn act_at_the_bench(&mut self, act: BenchAct) {
        if self.room != Room::Bench {
            // A key of the bench, pressed at the instrument.
            self.note_refused("That is a key of the bench; Y goes there.".to_owned());
            return;
        }
        let Some(bench) = &mut self.bench else {
            self.note_refused(
                "There is no case on the bench. Open a case file, or deal a patient.".to_owned(),
            );
            return;
        };
        let looks = matches!(act, BenchAct::Look(_));
        // Tried on a copy: what is refused leaves everything as it was, to the last change that can be undone.
        let mut tried = OnBench::clone(bench);
        match tried.act(act) {
            Ok(()) => {
                *bench = Arc::new(tried);
                self.note = None;
            }
            Err(refusal) => {
                self.note_refused(refusal.to_string());
                return;
            }
        }
        if looks {
            let viewpoint = self.look.viewpoint.unwrap_or(Viewpoint::Oblique);
            self.look = Look::at(viewpoint, self.bounds(viewpoint));
        }
    }

    fn note_refused(&mut self, what: String) {
        self.note = Some(Note { title: "Not done", what, meanwhile: AS_BEFORE });
    }

    pub(super) fn deal(&mut self, seed: u64) {
        let dealt = self.dealing.deal(seed).map_err(|error| error.to_string());
        let laid = dealt.and_then(|deal| OnBench::of_deal(deal).map_err(|error| error.to_string()));
        match laid {
            Ok(bench) => self.lay_on_bench(bench, false),
            Err(what) => self.note_refused(what),
        }
    }

    pub(super) fn set_up_asked(&mut self, as_programmed: bool) -> Option<Request> {
        let bench = self.bench.clone()?;
        if bench.is_asked() {
            self.note_refused(Refusal::Asked.to_string());
            return None;
        }
        let scene = if as_programmed { bench.programmed_scene().cloned() } else { bench.scene_as_set() };
        let Some(mut scene) = scene else {
            let what = "The centric record is not confirmed: no setting stands on it, and there is no set-up to show.";
            self.note_refused(what.to_owned());
            return None;
        };
        if !as_programmed {
            scene.title = format!("{}, as set on the bench", scene.title);
        }
        Some(Request::SetUp { scene: Box::new(scene), beside: bench.file.clone() })
    }

    pub(super) fn sheet_asked(&mut self, kind: Kind) -> Option<Request> {
        let bench = self.bench.as_ref()?;
        if bench.is_asked() {
            self.note_refused(Refusal::Asked.to_string());
            return None;
        }
        if let (Kind::Pdf, Some(why)) = (kind, self.place.why_no_pdf()) {
            self.note_refused(why.to_owned());
            return None;
        }
        Some(Request::WriteSheet(kind))
    }

    /// The file that is shown here.
    pub(super) fn file_here(&self) -> Option<PathBuf> {
        match (self.room, &self.bench) {
            (Room::Bench, Some(bench)) => bench.file.clone(),
            (Room::Bench, None) => None,
            (Room::Instrument, _) => self.file_shown(),
        }
    }
}

fn not_opened(what: String) -> Note {
    Note { title: "File not opened", what, meanwhile: "What was shown before is still shown." }
}

#[cfg(test)]
mod tests {
    use sim_core::frame::Side;
    use sim_core::guide::CondylarGuide;
    use sim_core::practice::{Form, Level};
    use sim_core::record::Case;
    use sim_core::setting::Setting;

    use super::*;
    use crate::action::testing::opened;
    use crate::bench::{Dealing, Dial, Magnified};

    const DENTATE: &str = include_str!("../../../scenes/cases/dentate.ron");
    const FAULTY: &str = include_str!("../../../scenes/cases/faulty_centric.ron");
    const H: Dial = Dial::Inclination(Side::Right);

    fn worked(text: &str) -> WorkedCase {
        WorkedCase::of(Case::from_ron(text).unwrap(), "case.ron".to_owned(), text.to_owned()).unwrap()
    }

    fn with_case(text: &str) -> State {
        let mut state = opened();
        state.open_case_read(Ok((worked(text), Some(PathBuf::from("/cases/case.ron")))));
        state
    }

    fn bench(state: &State) -> &OnBench {
        state.bench.as_ref().unwrap()
    }

    #[test]
    fn a_case_opens_the_bench_and_leaves_the_instrument_as_it_was() {
        let mut state = with_case(DENTATE);
        assert_eq!((state.room, state.scene == state.as_read), (Room::Bench, true));
        assert!(state.title().starts_with("Dentate case (invented)"));
        assert_eq!(state.act(Action::Reload), Some(Request::Open(PathBuf::from("/cases/case.ron"))));
        state.act(Action::SwapRoom);
        assert_eq!(state.room, Room::Instrument);
        assert!(state.title().contains("protrusive"));
        state.act(Action::SwapRoom);
        assert_eq!(state.room, Room::Bench);
    }

    #[test]
    fn a_case_that_cannot_be_read_leaves_the_last_one_on_the_bench() {
        let mut state = with_case(DENTATE);
        state.act(Action::Bench(BenchAct::Turn(H, 41.5)));
        state.open_case_read(Err("bad.ron:3:5: field title: expected a string".to_owned()));
        assert!(state.file_note.as_ref().unwrap().what.contains("bad.ron:3:5"));
        assert!((bench(&state).set_to(H).degrees() - 41.5).abs() < 1e-12);
    }

    #[test]
    fn the_empty_bench_says_what_belongs_on_it() {
        let mut state = opened();
        state.act(Action::SwapRoom);
        assert_eq!(state.room, Room::Bench);
        state.act(Action::Bench(BenchAct::Zero));
        assert!(state.note.as_ref().unwrap().what.contains("Open a case file, or deal a patient"));
        assert_eq!(state.act(Action::ShowSetUp { as_programmed: true }), None);
        assert_eq!(state.act(Action::WriteSheet(Kind::Pdf)), None);
        assert_eq!(state.act(Action::Reload), None);
    }

    #[test]
    fn what_hands_do_is_undone_and_done_again_and_a_drag_in_one_go() {
        let mut state = with_case(DENTATE);
        for degrees in [31.0, 32.0, 33.0] {
            state.act(Action::Bench(BenchAct::Turn(H, degrees)));
        }
        state.act(Action::LetGo);
        state.act(Action::Bench(BenchAct::Lay(Some(1))));
        state.act(Action::Undo);
        assert_eq!(bench(&state).between, None);
        state.act(Action::Undo);
        assert!((bench(&state).set_to(H).degrees() - 30.0).abs() < 1e-12);
        state.act(Action::Redo);
        assert!((bench(&state).set_to(H).degrees() - 33.0).abs() < 1e-12);
    }

    #[test]
    fn what_is_refused_is_said_and_changes_nothing() {
        let mut state = with_case(DENTATE);
        state.act(Action::Bench(BenchAct::Lock(H, true)));
        let depth = state.history.depth();
        state.act(Action::Bench(BenchAct::Turn(H, 20.0)));
        assert!(state.note.as_ref().unwrap().what.contains("is locked"));
        assert_eq!(state.history.depth(), depth);
        state.act(Action::Bench(BenchAct::Lock(H, false)));
        assert_eq!(state.note, None);
    }

    #[test]
    fn the_set_up_is_asked_for_as_set_or_as_programmed() {
        let mut state = with_case(DENTATE);
        state.act(Action::Bench(BenchAct::Turn(H, 41.5)));
        let mut inclination = |as_programmed| match state.act(Action::ShowSetUp { as_programmed }) {
            Some(Request::SetUp { scene, beside }) => {
                assert_eq!(beside, Some(PathBuf::from("/cases/case.ron")));
                scene.instrument.right_guide.horizontal_inclination.degrees()
            }
            other => panic!("{other:?}"),
        };
        assert!((inclination(false) - 41.5).abs() < 1e-12);
        let programmed =
            worked(DENTATE).programmed.side(Side::Right).unwrap().horizontal_inclination.angle.value;
        assert!((inclination(true) - programmed.degrees()).abs() < 1e-12);
        // Nothing stands on a centric record that is not confirmed.
        let mut state = with_case(FAULTY);
        assert_eq!(state.act(Action::ShowSetUp { as_programmed: false }), None);
        assert!(state.note.as_ref().unwrap().what.contains("not confirmed"));
        assert_eq!(state.act(Action::WriteSheet(Kind::Html)), Some(Request::WriteSheet(Kind::Html)));
    }

    #[test]
    fn a_patient_is_dealt_as_chosen_and_its_answer_cannot_be_taken_back() {
        let mut state = opened();
        state.act(Action::Dealing(Dealing { level: Level::First, form: Form::Bench, with_faults: false }));
        assert_eq!(state.act(Action::DrawPatient), Some(Request::DrawSeed));
        let inclination = Setting::Guide(&CondylarGuide::HORIZONTAL_INCLINATION);
        state.act(Action::Set(inclination, Side::Right, 41.0));
        state.act(Action::Deal(7));
        let deal = &bench(&state).patient.as_ref().unwrap().deal;
        assert_eq!((deal.key.seed, deal.key.form, deal.key.faults.len()), (7, Form::Bench, 0));
        assert_eq!(state.act(Action::WriteSheet(Kind::Pdf)), None);
        assert!(state.note.as_ref().unwrap().what.contains("Hand in your answer first"));
        state.act(Action::Bench(BenchAct::HandIn));
        assert!(bench(&state).patient.as_ref().unwrap().mark.is_some());
        // What was done at the instrument can be, and leaves the marks where they are.
        let handed_in = state.bench.clone().unwrap();
        state.act(Action::Undo);
        assert_eq!(state.scene, state.as_read);
        assert!(Arc::ptr_eq(state.bench.as_ref().unwrap(), &handed_in));
        assert_eq!(state.history.depth(), (0, 1));
        assert_eq!(state.act(Action::WriteSheet(Kind::Pdf)), Some(Request::WriteSheet(Kind::Pdf)));
    }

    #[test]
    fn at_the_bench_no_key_changes_the_instrument_out_of_sight() {
        let mut state = with_case(DENTATE);
        let scene = state.scene.clone();
        for action in [Action::PlayOrPause, Action::BackToFile, Action::SwapMoving, Action::SwapPage] {
            state.act(action);
            assert!(state.note.take().is_some_and(|note| note.what.contains("key of the instrument")));
        }
        state.act(Action::Bench(BenchAct::Turn(H, 41.5)));
        state.act(Action::Zero);
        assert!((bench(&state).set_to(H).degrees() - 30.0).abs() < 1e-12);
        state.act(Action::SwapTied);
        assert!(bench(&state).tied && !state.tied);
        assert_eq!((state.scene.clone(), state.playing), (scene, false));
        // A page of the instrument is gone to.
        state.act(Action::Page(crate::page::Page::Plan));
        assert_eq!((state.room, state.page), (Room::Instrument, crate::page::Page::Plan));
        // And a key of the bench is none at the instrument.
        state.act(Action::Bench(BenchAct::LayNext));
        assert!(state.note.as_ref().unwrap().what.contains("key of the bench"));
        assert_eq!(bench(&state).between, None);
    }

    #[test]
    fn looking_closer_brings_the_split_into_the_picture() {
        let mut state = with_case(DENTATE);
        let whole = state.look.height_mm;
        state.act(Action::Bench(BenchAct::Look(Magnified::Split(5))));
        assert!(state.look.height_mm < whole / 2.0, "{} of {whole}", state.look.height_mm);
    }
}
