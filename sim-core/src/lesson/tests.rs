//! What is wrong with a lesson is found, all of it, with its line.

use super::*;
use crate::scene::Scene;

const SOUND: &str = r#"(
    title: "A title",
    about: "About it.",
    sources: [Geometry("of a lever")],
    set_up: Scene("thirty_degree"),
    steps: [
        (text: "First {separation 36}.", excursion: Protrusive(advance_mm: 6.0), at_mm: 3.0),
        (
            text: "Second.",
            with: ["horizontal_inclination_deg=40"],
            excursion: RightLateral(advance_mm: 6.0),
            point_at: [Cusp("36"), Setting("lateral_angle_deg")],
            question: Choice(
                ask: "Which?",
                answers: [
                    (says: "left", holds_if: "advance left > advance right", reply: "Yes, {advance left}."),
                    (says: "right", holds_if: "advance right > advance left", reply: "No."),
                ],
            ),
        ),
        (
            text: "Third.",
            excursion: Protrusive(advance_mm: 6.0),
            question: Number(
                ask: "How far?", measure: "drop left", within: "0.1 mm",
                right: "Yes.", too_high: "Less.", too_low: "More.",
                mistakes: [(gives: "advance left", reply: "The advance.")],
            ),
        ),
        (
            text: "Fourth.",
            afresh: true,
            excursion: Protrusive(advance_mm: 6.0),
            question: Set(
                ask: "Steeper.", until: "drop left > 4 mm", turn: ["horizontal_inclination_deg"],
                model: ["horizontal_inclination_deg=45"], right: "Yes, {drop left}.",
                hints: [(when: "drop left < 3 mm", reply: "Shallower, {drop left}.")],
                otherwise: "Not yet, {drop left}.",
            ),
        ),
    ],
)"#;

fn lesson(text: &str) -> Result<Lesson, Vec<Fault>> {
    Lesson::of(&LessonFile::from_ron(text).expect("a lesson"), Scene::thirty_degree(), None)
}

fn sound() -> Lesson {
    lesson(SOUND).expect("a sound lesson")
}

/// The sound lesson with one thing changed is at fault in the line of the change, in words that hold this.
fn faulty(what: &str, with: &str, says: &str) -> Option<String> {
    assert!(SOUND.contains(what), "the lesson has no {what}");
    let text = SOUND.replacen(what, with, 1);
    let line = SOUND.lines().position(|line| line.contains(what.lines().next().unwrap())).unwrap() + 1;
    let Err(faults) = lesson(&text) else { return Some(format!("{with}: no fault is found")) };
    let placed: Vec<_> = faults.iter().map(|fault| fault.placed(&text)).collect();
    let found = placed.iter().any(|fault| fault.what.contains(says) && fault.line == line);
    (!found).then(|| format!("{with}: wanted {says:?} in line {line}, found {placed:?}"))
}

#[test]
fn every_fault_is_found_in_its_line() {
    let faults = [
        ("title: \"A title\"", "title: \" \"", "title is empty"),
        ("sources: [Geometry(\"of a lever\")]", "sources: []", "at least one"),
        ("{separation 36}", "{separation 39}", "31 to 38"),
        ("{separation 36}", "{separation 35}", "no cusp of the set-up is `35`"),
        ("{separation 36}", "{seperation 36}", "near it: separation"),
        ("{separation 36}", "{separation 36", "brace"),
        ("{separation 36}", "1.2 mm", "`1.2 mm` is typed by hand"),
        ("{separation 36}", "12\u{b0}", "typed by hand"),
        ("{separation 36}", "{separation 36 with pin_extension_mm=400}", "-30 to 30"),
        ("{separation 36}", "{separation 36 in left lateral at tracing 700 mm}", "700"),
        ("{separation 36}", "{bennett movement}", "lateral excursion"),
        ("{separation 36}", "{drop}", "`drop left`"),
        ("{separation 36}", "{turn 3}", "write for example `turn`"),
        ("{separation 36}", "{separation 36 minus turn}", "mm and degrees together"),
        ("{separation 36}", "{separation 36 in circles}", "names no excursion"),
        ("{separation 36}", "{separation 36 at noon}", "no place of an excursion"),
        ("{separation 36}", "{separation 36 at rest at rest}", "twice"),
        ("{separation 36}", "{separation 36 as before}", "as started"),
        ("{separation 36}", "{setting lateral_angle}", "near it"),
        ("{separation 36}", "{axis error 36 off 500 mm}", "off 5 mm"),
        ("{separation 36}", "{}", "nothing is measured"),
        ("at_mm: 3.0", "at_mm: 7.0", "0 to 6 mm"),
        ("\"horizontal_inclination_deg=40\"", "\"horizontal_inclination_deg=100\"", "-30 to 85"),
        (
            "with: [\"horizontal_inclination_deg=40\"]",
            "with: [\"invented_casts.overjet_mm=2\"]",
            "other casts",
        ),
        ("with: [\"horizontal_inclination_deg=40\"]", "with: [\"cusps.48.working_deg=2\"]", "cusps.48"),
        ("Cusp(\"36\")", "Cusp(\"35\")", "no cusp"),
        ("Setting(\"lateral_angle_deg\")", "Setting(\"lateral_angle\")", "near it"),
        ("\"advance left > advance right\"", "\"advance left\"", "compares nothing"),
        ("\"advance left > advance right\"", "\"advance left > turn\"", "one unit"),
        (
            "\"advance left > advance right\"",
            "\"advance left is advance right within 3 deg\"",
            "no tolerance",
        ),
        ("\"advance left > advance right\"", "\"advance left > 5.995 mm\"", "too close to call"),
        ("measure: \"drop left\"", "measure: \"drop\"", "`drop left`"),
        ("within: \"0.1 mm\"", "within: \"0.1 deg\"", "within is"),
        ("within: \"0.1 mm\"", "within: \"0 mm\"", "within is"),
        ("gives: \"advance left\"", "gives: \"drop right\"", "the right answer"),
        ("gives: \"advance left\"", "gives: \"turn\"", "degrees, and what is asked in mm"),
        ("until: \"drop left > 4 mm\"", "until: \"drop left > 3 mm\"", "nothing to do"),
        (
            "model: [\"horizontal_inclination_deg=45\"]",
            "model: [\"horizontal_inclination_deg=31\"]",
            "still does not hold",
        ),
        ("model: [\"horizontal_inclination_deg=45\"]", "model: []", "model is empty"),
        (
            "model: [\"horizontal_inclination_deg=45\"]",
            "model: [\"horizontal_inclination_deg=45\", \"pin_extension_mm=1\"]",
            "not in turn",
        ),
        ("turn: [\"horizontal_inclination_deg\"]", "turn: [\"horizontal\"]", "no setting"),
        ("when: \"drop left < 3 mm\"", "when: \"separation 35 < 3 mm\"", "no cusp"),
        ("otherwise: \"Not yet, {drop left}.\"", "otherwise: \"\"", "empty"),
    ];
    let unfound: Vec<String> =
        faults.into_iter().filter_map(|(what, with, says)| faulty(what, with, says)).collect();
    assert!(unfound.is_empty(), "{}", unfound.join("\n"));
}

#[test]
fn answers_of_which_none_or_two_are_right_are_a_fault_of_the_question() {
    for (what, with, says) in [
        ("advance left > advance right", "advance left < 1 mm", "no answer is right"),
        ("advance right > advance left", "advance right < 1 mm", "are all right"),
        ("says: \"right\"", "says: \"left\"", "say the same"),
    ] {
        let text = SOUND.replacen(what, with, 1);
        let faults = lesson(&text).expect_err(with);
        let line = SOUND.lines().position(|line| line.contains("answers: [")).unwrap() + 1;
        let placed = faults[0].placed(&text);
        assert!(placed.what.contains(says) && placed.line == line, "{placed}");
    }
    let one = SOUND.replacen(
        "                    (says: \"right\", holds_if: \"advance right > advance left\", reply: \"No.\"),\n",
        "",
        1,
    );
    assert!(lesson(&one).expect_err("one answer")[0].what.to_string().contains("two or more"));
}

#[test]
fn all_faults_are_told_at_once_and_each_in_its_own_line() {
    let text = SOUND
        .replacen("{separation 36}", "{seperation 36} and 3 mm", 1)
        .replacen("measure: \"drop left\"", "measure: \"drop\"", 1)
        .replacen("otherwise: \"Not yet, {drop left}.\"", "otherwise: \"{drop up}\"", 1);
    let faults = lesson(&text).expect_err("four faults");
    let lines: Vec<usize> = faults.iter().map(|fault| fault.place_in(&text).0).collect();
    assert_eq!(lines.len(), 4, "{faults:?}");
    assert_eq!(lines[0], lines[1]);
    assert!(lines[1] < lines[2] && lines[2] < lines[3], "{lines:?}");
}

#[test]
fn a_fault_within_a_text_of_several_lines_stands_in_its_own_line() {
    let text = SOUND.replacen("First {separation 36}.", "First\n\n line by line\n {separation 35}.", 1);
    let faults = lesson(&text).expect_err("no such cusp");
    let line = SOUND.lines().position(|line| line.contains("First")).unwrap() + 1;
    assert_eq!(faults[0].place_in(&text), (line + 3, 3));
}

#[test]
fn a_field_that_no_lesson_has_is_refused_where_it_stands() {
    let error = LessonFile::from_ron(&SOUND.replacen("text: \"Third.\"", "txet: \"Third.\"", 1)).unwrap_err();
    assert!(error.to_string().contains("txet"), "{error}");
    assert!(error.line > 20, "{error}");
    let again = LessonFile::from_ron(SOUND).unwrap();
    assert_eq!(LessonFile::from_ron(&again.to_ron()).unwrap(), again);
}

#[test]
fn changes_go_on_from_step_to_step_until_one_starts_afresh() {
    let lesson = sound();
    let h = |step: usize| lesson.steps[step].scene.instrument.left_guide.horizontal_inclination.degrees();
    assert_eq!([h(0), h(1), h(2), h(3)], [30.0, 40.0, 40.0, 30.0]);
}

#[test]
fn a_text_is_joined_over_its_lines_and_keeps_its_paragraphs() {
    let prose = Prose::parse("One\n   two\n\n  three {{x}} ").unwrap();
    let lesson = sound();
    let said = prose.said(&lesson.situation(&lesson.steps[0])).unwrap();
    assert_eq!(said, [Said::Words("One two\n\nthree {x} ".to_owned())]);
}

#[test]
fn a_number_is_judged_by_what_the_solver_computes() {
    let lesson = sound();
    let Some(Question::Number(number)) = &lesson.steps[2].question else { panic!("a number") };
    // 6 mm forward on a straight path of 40 degrees.
    let right = 6.0 * 40.0_f64.to_radians().tan();
    assert!((number.right.number - right).abs() < 1e-12);
    let words = |given: f64| match &number.judge(given).said[..] {
        [Said::Words(words)] => words.clone(),
        other => panic!("{other:?}"),
    };
    assert_eq!([words(right + 0.09), words(right - 0.09)], ["Yes.", "Yes."]);
    assert_eq!([words(right + 0.2), words(right - 0.2), words(6.05)], ["Less.", "More.", "The advance."]);
    assert!(number.judge(right).is_right && !number.judge(6.0).is_right);
}

#[test]
fn a_set_up_is_judged_by_what_is_measured_on_it() {
    let lesson = sound();
    let step = &lesson.steps[3];
    let situation = lesson.situation(step);
    let Some(Question::Set(set)) = &step.question else { panic!("a set-up") };
    let judged = |changes: &[&str]| {
        let mut scene = step.scene.clone();
        for change in changes {
            change.parse::<crate::setting::Change>().unwrap().make(&mut scene).unwrap();
        }
        set.judge(&situation, &scene)
    };
    let said = |judged: JudgedSet| match judged {
        JudgedSet::Judged(Judged { is_right, said }) => match said.into_iter().next() {
            Some(Said::Words(words)) => (is_right, words),
            other => panic!("{other:?}"),
        },
        other => panic!("{other:?}"),
    };
    assert_eq!(said(judged(&[])), (false, "Not yet, ".to_owned()));
    assert_eq!(said(judged(&["horizontal_inclination_deg=20"])), (false, "Shallower, ".to_owned()));
    assert_eq!(said(judged(&["horizontal_inclination_deg=36"])), (true, "Yes, ".to_owned()));
    assert_eq!(judged(&["horizontal_inclination_deg=36", "pin_extension_mm=1"]), JudgedSet::Elsewhere);
}
