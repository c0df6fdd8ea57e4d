//! The lessons that come with the program: sound, with sources, and gone through by a made-up pupil who
//! answers right and wrong.

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

use files::built_in::{BuiltIn, LESSONS, SCENES};
use sim_core::lesson::{
    Cited, Judged, JudgedSet, Lesson, LessonFile, Prose, Question, QuestionFields, Said, Situation,
};
use sim_core::scene::Scene;
use words::lesson::said;

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("..")
}

fn sound(own: &BuiltIn) -> (LessonFile, Lesson) {
    let file = LessonFile::from_ron(own.text).unwrap_or_else(|error| panic!("{}: {error}", own.name));
    let lesson = files::lesson_from_text(own.text, own.name, root().join("lessons").as_path());
    (file, lesson.unwrap_or_else(|error| panic!("{error}")))
}

/// A text of a lesson as it is said in a situation.
fn text(written: &str, situation: &Situation<'_>) -> String {
    let prose = Prose::parse(written).unwrap_or_else(|error| panic!("{error:?}"));
    said(&prose.said(situation).unwrap_or_else(|error| panic!("{error:?}")))
}

#[test]
fn everything_in_the_folders_comes_with_the_program() {
    for (folder, listed) in [("scenes", SCENES), ("lessons", LESSONS)] {
        let files: BTreeSet<String> = fs::read_dir(root().join(folder))
            .expect("a folder")
            .filter_map(|entry| Some(entry.ok()?.file_name().to_str()?.strip_suffix(".ron")?.to_owned()))
            .collect();
        let names: BTreeSet<String> = listed.iter().map(|own| own.name.to_owned()).collect();
        assert_eq!(files, names, "{folder}");
        for own in listed {
            let path = root().join(folder).join(format!("{}.ron", own.name));
            assert_eq!(own.text, fs::read_to_string(path).expect("a file"));
            assert!(own.text.starts_with("// What it teaches: "), "{} says what it teaches", own.name);
            assert!(own.text.contains("Invented for teaching: "), "{} says that it is invented", own.name);
        }
    }
    assert!(LESSONS.len() >= 10);
}

#[test]
fn every_lesson_is_sound_has_sources_and_asks_for_predictions() {
    for own in LESSONS {
        let (_, lesson) = sound(own);
        let backed = |cited: &Cited| match cited {
            Cited::Published(source) => {
                source.contains(|letter: char| letter.is_ascii_digit()) || source.contains("Dent")
            }
            Cited::CommonPractice(what) | Cited::Geometry(what) => !what.is_empty(),
        };
        assert!(lesson.sources.iter().all(backed), "{}: {:?}", own.name, lesson.sources);
        let questions = lesson.steps.iter().filter_map(|step| step.question.as_ref()).count();
        assert!(questions >= 3, "{} asks {questions} questions", own.name);
    }
    let hides = |own: &BuiltIn| {
        let (_, lesson) = sound(own);
        let asked = lesson.steps.iter().filter(|step| step.excursion.is_some());
        asked.filter_map(|step| step.question.as_ref()).any(Question::hides_the_motion)
    };
    assert!(LESSONS.iter().filter(|own| hides(own)).count() >= 10);
}

#[test]
fn a_pupil_who_answers_right_is_told_so_and_one_who_is_wrong_hears_what_the_file_says() {
    for own in LESSONS {
        let (file, lesson) = sound(own);
        for (number, (fields, step)) in file.steps.iter().zip(&lesson.steps).enumerate() {
            let place = format!("{}, step {}", own.name, number + 1);
            let situation = lesson.situation(step);
            assert_eq!(said(&step.text), text(&fields.text, &situation), "{place}");
            match (&fields.question, &step.question) {
                (None, None) => {}
                (Some(QuestionFields::Choice(written)), Some(Question::Choice(choice))) => {
                    for (answer, fields) in written.answers.iter().enumerate() {
                        let judged = choice.judge(answer).expect(&place);
                        assert_eq!(judged.is_right, answer == choice.right, "{place}");
                        assert_eq!(said(&judged.said), text(&fields.reply, &situation), "{place}");
                    }
                    assert_eq!(choice.judge(written.answers.len()), None, "{place}");
                }
                (Some(QuestionFields::Number(written)), Some(Question::Number(asked))) => {
                    let hears = |given: f64, is_right: bool, reply: &str| {
                        let Judged { is_right: judged, said: words } = asked.judge(given);
                        assert_eq!(judged, is_right, "{place}: {given}");
                        assert_eq!(said(&words), text(reply, &situation), "{place}: {given}");
                    };
                    let (right, within) = (asked.right.number, asked.within.number);
                    hears(right, true, &written.right);
                    hears(right + 0.99 * within, true, &written.right);
                    hears(right - 0.99 * within, true, &written.right);
                    hears(right + 1000.0 * within + 1000.0, false, &written.too_high);
                    hears(right - 1000.0 * within - 1000.0, false, &written.too_low);
                    for (mistake, (value, _)) in written.mistakes.iter().zip(&asked.mistakes) {
                        hears(value.number, false, &mistake.reply);
                    }
                    assert_eq!(written.mistakes.len(), asked.mistakes.len(), "{place}");
                }
                (Some(QuestionFields::Set(written)), Some(Question::Set(set))) => {
                    let judged = |scene: &Scene| set.judge(&situation, scene);
                    let JudgedSet::Judged(first) = judged(&step.scene) else { panic!("{place}") };
                    assert!(!first.is_right, "{place} is solved before it starts");
                    let replies: Vec<String> = written
                        .hints
                        .iter()
                        .map(|hint| &hint.reply)
                        .chain([&written.otherwise])
                        .map(|reply| text(reply, &situation))
                        .collect();
                    assert!(replies.contains(&said(&first.said)), "{place}: {:?}", first.said);
                    let mut solved = step.scene.clone();
                    for change in &set.model {
                        change.make(&mut solved).expect("in range");
                    }
                    let JudgedSet::Judged(last) = judged(&solved) else { panic!("{place}") };
                    let on_it = Situation { scene: &solved, ..situation };
                    assert_eq!(
                        (last.is_right, said(&last.said)),
                        (true, text(&written.right, &on_it)),
                        "{place}"
                    );
                    if !set.turn.is_empty() {
                        // The intercondylar distance is never what a lesson lets turn.
                        "intercondylar_distance_mm=101"
                            .parse::<sim_core::setting::Change>()
                            .and_then(|change| change.make(&mut solved))
                            .expect("in range");
                        assert_eq!(judged(&solved), JudgedSet::Elsewhere, "{place}");
                    }
                }
                other => panic!("{place}: {other:?}"),
            }
        }
    }
}

/// Right answers of the lessons, by formulas that stand here.
#[test]
fn the_right_numbers_are_those_of_the_formulas() {
    let number = |name: &str, step: usize| {
        let own = LESSONS.iter().find(|own| own.name == name).expect(name);
        let (_, lesson) = sound(own);
        match &lesson.steps[step].question {
            Some(Question::Number(asked)) => asked.right.number,
            other => panic!("{name}: {other:?}"),
        }
    };
    let tan = |degrees: f64| degrees.to_radians().tan();
    let near = |found: f64, expected: f64| assert!((found - expected).abs() < 1e-9, "{found}, {expected}");
    near(number("zeroing", 1), 2.0);
    near(number("inclination", 0), 3.0 * tan(30.0));
    near(number("lateral_angle", 1), 4.0 * tan(15.0));
    near(number("immediate_translation", 1), 1.0 + 4.0 * tan(15.0));
    near(number("rule_and_record", 0), 30.0 / 8.0 + 12.0);
    // A wedge with its edge at the incisal point, 92 mm in front of the axis; the premolar's place is at 72 mm.
    let own = LESSONS.iter().find(|own| own.name == "christensen").expect("a lesson");
    let (_, lesson) = sound(own);
    let turn = cleft(6.0, &lesson.steps[0].scene);
    near(number("christensen", 1), turn.sin() * (92.0 - 72.0));
    // The pin's tip lies at (98, −42 − 3): the turn brings it back onto the level of the table (plane geometry).
    let opened: f64 = {
        let (x, z, table) = (98.0_f64, -45.0_f64, 35.0_f64.to_radians());
        // On the plane through (98, −42) inclined by 35°: n·(R p) = n·p0, n = (sin 35°, 0, cos 35°).
        let (n, p0) = ((table.sin(), table.cos()), (98.0, -42.0));
        let gap = |turn: f64| {
            // The upper member turns its front up by the opening.
            let (sin, cos) = turn.sin_cos();
            let (px, pz) = (x * cos - z * sin, x * sin + z * cos);
            n.0 * (px - p0.0) + n.1 * (pz - p0.1)
        };
        let (mut low, mut high) = (0.0, 0.2);
        for _ in 0..80 {
            let middle = (low + high) / 2.0;
            if gap(middle) < 0.0 { low = middle } else { high = middle }
        }
        low
    };
    near(number("facebow", 1), 2.0 * 5.0 * (opened / 2.0).sin());
}

/// The turn of the jaw by which flat rims part: plane geometry of the condyle and of the front point, which stays at
/// its level. Against Christensen's formula itself the solver is held in `against_christensen.rs`.
fn cleft(advance_mm: f64, scene: &Scene) -> f64 {
    // The condyle goes to (a, −a·tan H); the front point is r away from it.
    let h = scene.instrument.left_guide.horizontal_inclination.radians();
    let point = scene.instrument.incisal_point.coords();
    let (r, phi) = (point.x.hypot(point.z), (-point.z).atan2(point.x));
    // z of the front point: −a·tan H − r·sin(φ − γ) = −r·sin φ, γ front up.
    phi - (phi.sin() - advance_mm * h.tan() / r).asin()
}

#[test]
fn what_a_file_says_wrong_is_told_with_its_name_and_line() {
    let own = LESSONS.iter().find(|own| own.name == "facebow").expect("a lesson");
    let wrong = own.text.replacen(
        "axis error 37 off 5 mm with pin_extension_mm=1.5 is",
        "axis error 39 off 5 mm is",
        1,
    );
    assert_ne!(wrong, own.text);
    let line = wrong.lines().position(|line| line.contains("axis error 39")).expect("a line") + 1;
    let error = files::lesson_from_text(&wrong, "mine.ron", Path::new("")).expect_err("a fault");
    let says = error.to_string();
    assert!(says.starts_with(&format!("mine.ron:{line}:")) && says.contains("39"), "{says}");
    let nowhere = own.text.replacen("thirty_degree", "thirty_degrees", 1);
    let says = files::lesson_from_text(&nowhere, "mine.ron", Path::new("")).expect_err("a fault").to_string();
    assert!(says.contains("no scene called `thirty_degrees`") && says.contains("flat_rims"), "{says}");
    let broken = own.text.replacen("steps:", "step:", 1);
    let says = files::lesson_from_text(&broken, "mine.ron", Path::new("")).expect_err("a fault").to_string();
    assert!(says.contains("`step`") && says.starts_with("mine.ron:"), "{says}");
}

/// A lesson may name a scene file beside it, or have the scene in itself.
#[test]
fn a_set_up_may_be_a_file_beside_the_lesson_or_stand_in_it() {
    let own = LESSONS.iter().find(|own| own.name == "inclination").expect("a lesson");
    let lessons = root().join("lessons");
    let beside = own.text.replacen("Scene(\"thirty_degree\")", "File(\"../scenes/thirty_degree.ron\")", 1);
    let here =
        own.text.replacen("Scene(\"thirty_degree\")", &format!("Here{}", Scene::thirty_degree().to_ron()), 1);
    for text in [beside, here] {
        let lesson = files::lesson_from_text(&text, "mine.ron", lessons.as_path())
            .unwrap_or_else(|error| panic!("{error}"));
        assert_eq!(lesson.start, Scene::thirty_degree());
    }
    let missing = own.text.replacen("Scene(\"thirty_degree\")", "File(\"nowhere.ron\")", 1);
    let says =
        files::lesson_from_text(&missing, "mine.ron", lessons.as_path()).expect_err("no file").to_string();
    assert!(says.contains("nowhere.ron") && says.contains("no such file"), "{says}");
}

/// Nothing that a lesson says has a number left out: each place is filled.
#[test]
fn no_text_keeps_a_brace() {
    for own in LESSONS {
        let (_, lesson) = sound(own);
        let mut all: Vec<&[Said]> = Vec::new();
        for step in &lesson.steps {
            all.push(&step.text);
            all.extend(step.question.as_ref().map(Question::ask));
            all.extend(step.question.as_ref().and_then(Question::after));
        }
        for pieces in all {
            let words = said(pieces);
            assert!(
                !words.is_empty() && !words.contains(['{', '}', '_']) && !words.contains("  "),
                "{words}"
            );
        }
    }
}

/// The worked example of the page for teachers is a sound lesson.
#[test]
fn the_example_in_the_docs_is_a_sound_lesson() {
    let page = fs::read_to_string(root().join("docs/lessons.md")).expect("the page");
    let example =
        page.split("```ron\n").nth(1).and_then(|rest| rest.split("```").next()).expect("an example");
    let lesson = files::lesson_from_text(example, "docs/lessons.md", Path::new(""));
    let lesson = lesson.unwrap_or_else(|error| panic!("{error}"));
    assert_eq!(lesson.steps.len(), 3);
    // Every quantity that can be measured has its line there.
    for written in sim_core::lesson::Quantity::examples() {
        let name = written.split(" 3").next().unwrap_or(written).split(" left").next().unwrap_or(written);
        assert!(page.contains(&format!("`{name}")), "{name} is not on the page");
    }
}
