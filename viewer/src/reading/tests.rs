//! Files given by name and bytes.

use std::path::Path;

use files::Given;
use sim_core::scene::Scene;

use super::{Held, answer, any, shelf};
use crate::action::Action;
use crate::action::testing::opened;
use crate::opened::Request;
use crate::session::{Offer, Session};
use crate::state::State;

const DENTATE: &str = include_str!("../../../scenes/cases/dentate.ron");

fn given(files: &[(&str, &str)]) -> Given {
    let mut given = Given::default();
    for (name, text) in files {
        given.take(*name, text.as_bytes());
    }
    given
}

fn refused(name: &str, text: &str) -> String {
    any(&given(&[(name, text)]), Path::new(name)).unwrap_err().to_string()
}

#[test]
fn a_case_that_cannot_be_worked_through_is_refused_with_its_line() {
    // The axis points fall together.
    let wrong =
        DENTATE.replace("left_axis_mm: (-41.792, -34.958, 32.968)", "left_axis_mm: (69.0, -89.0, 33.0)");
    assert_ne!(wrong, DENTATE);
    let line = wrong.lines().position(|line| line.contains("mounting")).unwrap() + 1;
    for text in [wrong.clone(), format!("\u{feff}{wrong}")] {
        let said = refused("mine.ron", &text);
        assert!(said.starts_with(&format!("mine.ron:{line}:")), "{said}");
    }
}

#[test]
fn what_is_wrong_is_said_with_name_line_and_column() {
    let scene = Scene::thirty_degree().to_ron().replacen("samples", "sample", 1);
    let line = scene.lines().position(|line| line.contains("sample:")).unwrap() + 1;
    assert!(refused("mine.ron", &scene).starts_with(&format!("mine.ron:{line}:")));
    let said = refused("arch.csv", "leg,forward_mm,left_mm\nprotrusive,far,0\n");
    assert!(said.starts_with("arch.csv") && said.contains('2'), "{said}");
    for photo in ["plate.JPG", "plate.png", "plate.jpeg"] {
        let said = refused(photo, "no matter what");
        assert!(said.starts_with(photo) && said.contains("no scale"), "{said}");
    }
    let said = any(&Given::default(), Path::new("gone.ron")).unwrap_err().to_string();
    assert!(said.starts_with("gone.ron") && said.contains("given"), "{said}");
}

#[test]
fn bytes_that_are_no_text_or_too_many_are_refused() {
    let mut given = Given::default();
    given.take("noise.ron", [b'(', 0xff, 0xfe].as_slice());
    let said = any(&given, Path::new("noise.ron")).unwrap_err().to_string();
    assert!(said.starts_with("noise.ron") && said.contains("not UTF-8"), "{said}");
    let most = usize::try_from(files::MOST_TEXT_BYTES).unwrap();
    given.take("long.ron", vec![b' '; most + 1]);
    let said = any(&given, Path::new("long.ron")).unwrap_err().to_string();
    assert!(said.starts_with("long.ron") && said.contains("larger than 50 MB"), "{said}");
    let most = usize::try_from(files::tracing::MOST_BYTES).unwrap();
    given.take("long.csv", vec![b'\n'; most + 1]);
    let said = any(&given, Path::new("long.csv")).unwrap_err().to_string();
    assert!(said.starts_with("long.csv") && said.contains("larger than 100 MB"), "{said}");
}

#[test]
fn what_comes_with_the_program_needs_no_file() {
    let shelf = shelf::shelf();
    assert!(shelf.scenes.len() >= 12 && shelf.lessons.len() >= 13);
    for scene in &shelf.scenes {
        let mut state = opened();
        assert_eq!(answer(&mut state, Request::Scene(scene.name.clone()), &Given::default()), None);
        assert_eq!((state.scene.title.as_str(), &state.file_note), (scene.title.as_str(), &None));
    }
    for lesson in &shelf.lessons {
        let mut state = opened();
        assert_eq!(answer(&mut state, Request::Lesson(lesson.name.clone()), &Given::default()), None);
        assert_eq!(state.teaching.lesson().unwrap().opened.lesson.title, lesson.title);
    }
    let mut state = opened();
    answer(&mut state, Request::Scene("none".to_owned()), &Given::default());
    assert!(state.file_note.unwrap().what.contains("none"));
    answer(&mut opened(), Request::Lesson("none".to_owned()), &Given::default());
}

#[test]
fn a_lesson_starts_from_a_scene_that_was_given_with_it() {
    let lesson = files::built_in::lesson_named("zeroing").unwrap().text;
    let named = lesson.lines().find(|line| line.trim_start().starts_with("set_up:")).unwrap();
    let own = lesson.replacen(named, "    set_up: File(\"scenes/own.ron\"),", 1);
    assert_ne!(own, lesson);
    let mut scene = Scene::thirty_degree();
    scene.title = "The teacher’s own".to_owned();
    let files = given(&[("lesson.ron", &own), ("own.ron", &scene.to_ron())]);
    let Held::Lesson(read) = any(&files, Path::new("lesson.ron")).unwrap() else { panic!("no lesson") };
    assert_eq!(read.lesson.start.title, scene.title);
    let said = any(&given(&[("lesson.ron", &own)]), Path::new("lesson.ron")).unwrap_err().to_string();
    assert!(said.contains("scenes/own.ron") && said.contains("lesson.ron"), "{said}");
}

#[test]
fn a_second_set_up_and_a_session_are_read_from_what_was_given() {
    let mut other = Scene::thirty_degree();
    other.title = "Another".to_owned();
    let files = given(&[("other.ron", &other.to_ron())]);
    let mut state = opened();
    assert_eq!(answer(&mut state, Request::OpenBeside("other.ron".into()), &files), None);
    assert_eq!(state.kept.as_ref().unwrap().set_up.name, "other.ron");
    // The session's file is there, and then it is not.
    let session = Session::new(Some("other.ron".into()), &Scene::thirty_degree(), (0, 0.0), None);
    let offer = Offer { session, title: String::new(), left: String::new(), name: "one".to_owned() };
    for (files, is_there) in [(files, true), (Given::default(), false)] {
        let mut state = opened();
        let request = Request::OpenFor("other.ron".into(), Box::new(offer.clone()));
        assert_eq!(answer(&mut state, request, &files), Some(Request::Forget("one".to_owned())));
        assert_eq!(state.scene, Scene::thirty_degree());
        assert_eq!(state.file.is_some(), is_there);
        assert_eq!(state.file_note.is_none(), is_there);
    }
}

#[test]
fn a_request_of_another_kind_is_given_back() {
    let mut state: State = opened();
    for request in [Request::DrawSeed, Request::Browse { to_save: true }, Request::Forget("one".to_owned())] {
        assert_eq!(answer(&mut state, request.clone(), &Given::default()), Some(request));
    }
    // A file that was read before is read again from what was given.
    let files = given(&[("mine.ron", &Scene::thirty_degree().to_ron())]);
    answer(&mut state, Request::Open("mine.ron".into()), &files);
    let request = state.act(Action::Reload).unwrap();
    assert_eq!(answer(&mut state, request, &files), None);
    assert_eq!((state.file.as_deref(), &state.file_note), (Some(Path::new("mine.ron")), &None));
}
