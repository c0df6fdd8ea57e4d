//! Lessons and vivas gone through by a made-up pupil, by actions alone.

use sim_core::frame::Side;
use sim_core::lesson::Question;
use sim_core::scene::Scene;
use sim_core::setting::{self, Choice, SettingName};
use sim_core::viva::VivaLevel;
use words::lesson::said;

use super::files;
use crate::action::Action;
use crate::opened::Request;
use crate::page::Page;
use crate::projection::Viewpoint;
use crate::reading::shelf;
use crate::state::State;
use crate::teaching::Teach;

fn act(state: &mut State, teach: Teach) {
    if let Some(request) = state.act(Action::Teach(teach)) {
        files::answer(state, request);
    }
}

/// A person's own set-up, and a lesson opened over it.
fn in_lesson(name: &str) -> State {
    let mut state = opened();
    state.teaching.shelf = shelf::shelf();
    change(&mut state, "horizontal_inclination_deg=37");
    act(&mut state, Teach::Lesson(name.to_owned()));
    assert_eq!(state.file_note, None, "{name}");
    state
}

/// Makes a change by the panel's own actions.
fn change(state: &mut State, written: &str) {
    let (name, value) = written.split_once('=').unwrap();
    if let Some(choice) = Choice::ALL.into_iter().find(|choice| choice.key() == name) {
        let word = choice.words().iter().find(|word| **word == value).unwrap();
        state.act(Action::Choose(choice, Side::Right, word));
        return;
    }
    let name: SettingName = name.parse().unwrap();
    let setting = setting::all().find(|setting| name.is(*setting)).unwrap();
    for side in Side::BOTH.into_iter().filter(|side| name.side().is_none_or(|own| own == *side)) {
        state.act(Action::Set(setting, side, value.parse().unwrap()));
    }
}

fn opened() -> State {
    State::open(Scene::thirty_degree()).unwrap()
}

fn told(state: &State) -> (Option<bool>, String) {
    let told = state.teaching.lesson().unwrap().done().unwrap().told.clone().unwrap();
    (told.is_right, told.words)
}

/// Answers the question of the step: with every wrong answer first if so asked, then right.
fn answer(state: &mut State, wrong_first: bool) {
    let given = state.teaching.lesson().unwrap();
    let Some(question) = given.question().cloned() else { return };
    match question {
        Question::Choice(choice) => {
            for place in (0..choice.answers.len()).filter(|place| wrong_first && *place != choice.right) {
                act(state, Teach::Choose(place));
                assert_eq!(told(state), (Some(false), said(&choice.answers[place].reply)));
            }
            act(state, Teach::Choose(choice.right));
            assert_eq!(told(state), (Some(true), said(&choice.answers[choice.right].reply)));
        }
        Question::Number(number) => {
            let give = |state: &mut State, typed: String| {
                act(state, Teach::Type(typed));
                act(state, Teach::Answer);
            };
            if wrong_first {
                give(state, "a lot".to_owned());
                assert_eq!(told(state).0, None);
                let far = number.right.number + 1000.0;
                give(state, far.to_string());
                assert_eq!(told(state), (Some(false), said(&number.too_high)));
            }
            give(state, number.right.number.to_string().replace('.', ","));
            assert_eq!(told(state), (Some(true), said(&number.reply)));
        }
        Question::Set(set) => {
            if wrong_first {
                act(state, Teach::Check);
                assert_eq!(told(state).0, Some(false));
            }
            for written in &set.model {
                change(state, &written.to_string());
            }
            act(state, Teach::Check);
            assert_eq!(told(state).0, Some(true));
        }
    }
}

#[test]
fn every_lesson_is_gone_through_to_its_end_and_the_persons_own_set_up_comes_back() {
    let lessons: Vec<String> = shelf::shelf().lessons.iter().map(|offer| offer.name.clone()).collect();
    assert!(lessons.len() >= 10);
    for (place, name) in lessons.iter().enumerate() {
        let wrong_first = place % 2 == 0;
        let mut state = in_lesson(name);
        let own = state.own.as_ref().unwrap().scene.clone();
        let steps = state.teaching.lesson().unwrap().steps.len();
        for step in 0..steps {
            let given = state.teaching.lesson().unwrap();
            assert_eq!((given.at, state.page), (step, Page::Lesson), "{name}");
            let shown = given.step().unwrap().clone();
            assert_eq!(state.scene, shown.scene, "{name}, step {step}");
            if let Some(excursion) = shown.excursion {
                assert_eq!(state.shown.solved.excursion, excursion, "{name}, step {step}");
            }
            if state.motion_is_hidden() {
                assert_eq!(state.at, 0, "{name}, step {step}");
            }
            answer(&mut state, wrong_first);
            assert!(!state.motion_is_hidden(), "{name}, step {step}");
            if shown.excursion.is_some() && !matches!(shown.at, Some(sim_core::lesson::At::Rest)) {
                assert!(state.at > 0, "{name}, step {step} shows its excursion");
            }
            act(&mut state, Teach::Next);
        }
        let given = state.teaching.lesson().unwrap();
        assert!(given.step().is_none(), "{name}");
        let (asked, right) = given.score();
        assert_eq!(right, if wrong_first { 0 } else { asked }, "{name}");
        act(&mut state, Teach::Leave);
        assert_eq!((&state.scene, state.own.is_none()), (&own, true), "{name}");
        assert!(state.teaching.course.is_none() && !state.teaching.shelf.lessons.is_empty());
        // What was done before the lesson can still be undone.
        state.act(Action::Undo);
        state.act(Action::Undo);
        assert_eq!(state.scene, Scene::thirty_degree());
    }
}

#[test]
fn what_is_to_be_predicted_is_not_shown_before_the_answer() {
    let mut state = in_lesson("inclination");
    assert!(state.motion_is_hidden());
    for action in [
        Action::PlayOrPause,
        Action::Step(1.0),
        Action::ScrubTo(40),
        Action::Excursion(1),
        Action::ExcursionAfter(1),
    ] {
        state.note = None;
        state.act(action);
        assert_eq!((state.at, state.playing), (0, false));
        assert_eq!(state.note.as_ref().unwrap().title, "Predict first");
    }
    act(&mut state, Teach::Type("1.73".to_owned()));
    act(&mut state, Teach::Answer);
    assert!((state.sample().driven - 3.0).abs() < 1e-9);
    state.act(Action::ScrubTo(0));
    assert_eq!(state.at, 0);
}

#[test]
fn who_gives_up_is_shown_the_answer_and_it_does_not_count() {
    let mut state = in_lesson("inclination");
    act(&mut state, Teach::Show);
    assert_eq!(told(&state), (None, "It is: 1.73 mm (± 0.05 mm).".to_owned()));
    assert!(!state.motion_is_hidden());
    // An answer after that changes nothing.
    act(&mut state, Teach::Type("1.73".to_owned()));
    act(&mut state, Teach::Answer);
    assert_eq!(state.teaching.lesson().unwrap().score(), (4, 0));
    for _ in 0..4 {
        act(&mut state, Teach::Next);
    }
    act(&mut state, Teach::Show);
    assert!((state.scene.instrument.left_guide.horizontal_inclination.degrees() - 45.0).abs() < 1e-9);
}

#[test]
fn steps_go_back_and_start_again_and_undo_stays_within_one() {
    let mut state = in_lesson("split_cast");
    assert_eq!(state.look.viewpoint, Some(Viewpoint::Right));
    act(&mut state, Teach::Back);
    assert_eq!(state.teaching.lesson().unwrap().at, 0);
    act(&mut state, Teach::Next);
    act(&mut state, Teach::Next);
    let step = state.scene.clone();
    change(&mut state, "horizontal_inclination_deg=33");
    assert_ne!(state.scene, step);
    act(&mut state, Teach::Again);
    assert_eq!(state.scene, step);
    state.act(Action::Undo);
    assert_eq!(state.scene, step);
    act(&mut state, Teach::Back);
    assert_eq!(state.teaching.lesson().unwrap().at, 1);
}

#[test]
fn a_lesson_opened_from_another_gives_back_the_same_set_up_and_so_does_a_viva() {
    let mut state = in_lesson("zeroing");
    let own = state.own.as_ref().unwrap().scene.clone();
    act(&mut state, Teach::Lesson("facebow".to_owned()));
    assert_eq!(state.teaching.lesson().unwrap().lesson().title, "An error of the facebow");
    state.begin_viva(VivaLevel::Second, 4);
    assert!(state.teaching.viva().is_some());
    act(&mut state, Teach::Leave);
    assert_eq!(state.scene, own);
    // A scene that is opened takes the place of the person's own.
    act(&mut state, Teach::Lesson("zeroing".to_owned()));
    act(&mut state, Teach::Scene("flat_rims".to_owned()));
    assert_eq!(state.scene.title, "Flat rims on a level plane (invented)");
    assert!(state.own.is_none() && state.teaching.course.is_none());
    state.act(Action::Undo);
    assert_eq!(state.scene, own);
}

#[test]
fn a_viva_keeps_its_score_and_counts_only_first_answers() {
    let mut state = opened();
    state.begin_viva(VivaLevel::First, 9);
    for number in 0..6_u32 {
        let examined = state.teaching.viva().unwrap();
        let right = examined.question.right;
        let wrong = usize::from(right == 0);
        assert_eq!(state.scene, examined.question.scene);
        assert!(state.motion_is_hidden());
        // Nothing goes on before an answer is given.
        act(&mut state, Teach::Next);
        assert_eq!(state.teaching.viva().unwrap().number, u64::from(number));
        act(&mut state, Teach::Choose(if number % 3 == 0 { wrong } else { right }));
        act(&mut state, Teach::Choose(right));
        assert!(!state.motion_is_hidden());
        act(&mut state, Teach::Next);
    }
    let score = state.teaching.viva().unwrap().score;
    assert_eq!((score.asked, score.right), (6, 4));
}

#[test]
fn a_bad_lesson_file_is_noted_with_its_line_and_what_was_shown_stays() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("own.ron");
    let good =
        std::fs::read_to_string(concat!(env!("CARGO_MANIFEST_DIR"), "/../lessons/zeroing.ron")).unwrap();
    std::fs::write(&path, &good).unwrap();
    let mut state = opened();
    let open = |state: &mut State, action: Action| {
        if let Some(request) = state.act(action) {
            files::answer(state, request);
        }
    };
    open(&mut state, Action::Open(path.clone()));
    assert_eq!(state.teaching.lesson().unwrap().opened.file, Some(path.clone()));
    act(&mut state, Teach::Next);
    let shown = state.scene.clone();
    let line = good.lines().position(|line| line.contains("measure: \"departures\"")).unwrap() + 1;
    std::fs::write(&path, good.replacen("measure: \"departures\"", "measure: \"departure\"", 1)).unwrap();
    open(&mut state, Action::Reload);
    let note = state.file_note.clone().unwrap();
    assert!(note.what.contains(&format!("own.ron:{line}:")) && note.what.contains("departures"), "{note:?}");
    assert_eq!((state.teaching.lesson().unwrap().at, &state.scene), (1, &shown));
    // Mended, it goes on at the same step.
    std::fs::write(&path, &good).unwrap();
    open(&mut state, Action::Reload);
    assert_eq!((state.file_note.clone(), state.teaching.lesson().unwrap().at), (None, 1));
    // A field misspelt is still a lesson's.
    std::fs::write(&path, good.replacen("question:", "qestion:", 1)).unwrap();
    open(&mut state, Action::Open(path));
    assert!(state.file_note.unwrap().what.contains("qestion"));
}

#[test]
fn the_page_asks_for_what_the_state_cannot_have_by_itself() {
    let mut state = opened();
    assert_eq!(state.act(Action::Teach(Teach::Page)), None);
    assert_eq!(state.page, Page::Lesson);
    for (teach, request) in [
        (Teach::Lesson("a".to_owned()), Request::Lesson("a".to_owned())),
        (Teach::Scene("b".to_owned()), Request::Scene("b".to_owned())),
        (Teach::Viva(VivaLevel::Third), Request::Viva(VivaLevel::Third)),
    ] {
        assert_eq!(state.act(Action::Teach(teach)), Some(request));
    }
    // Without a lesson the rest does nothing.
    let before = state.scene.clone();
    for teach in [
        Teach::Next,
        Teach::Back,
        Teach::Again,
        Teach::Choose(0),
        Teach::Answer,
        Teach::Check,
        Teach::Show,
        Teach::Leave,
    ] {
        assert_eq!(state.act(Action::Teach(teach)), None);
    }
    assert_eq!(state.scene, before);
    act(&mut state, Teach::Lesson("no such".to_owned()));
    assert!(state.file_note.unwrap().what.contains("no such"));
}

#[test]
fn a_lesson_is_nothing_to_be_saved_and_what_a_person_made_is_kept_meanwhile() {
    let mut state = in_lesson("split_cast");
    let own = state.own.as_ref().unwrap().scene.clone();
    assert!(state.is_changed());
    let kept = state.session().unwrap();
    assert_eq!(kept.scene(), Some(own));
    act(&mut state, Teach::Leave);
    state.act(Action::BackToFile);
    act(&mut state, Teach::Lesson("split_cast".to_owned()));
    change(&mut state, "horizontal_inclination_deg=22");
    assert!(!state.is_changed() && state.session().is_none());
}
