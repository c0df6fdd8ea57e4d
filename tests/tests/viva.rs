//! The viva: of every question exactly one answer is right, by a second derivation, and the wrong ones
//! differ from it clearly.

use proptest::prelude::*;
use sim_core::cusp::Cusp;
use sim_core::excursion::{Drive, Excursion, Mechanism, Movement, Station};
use sim_core::frame::{JawPose, Side};
use sim_core::units::{Length, Unit};
use sim_core::viva::{Asked, Statement, Viva, VivaLevel, VivaQuestion, VivaValue};
use whole_checks::definition;
use whole_checks::tolerance::SOLVED;

/// Two numbers to choose from differ by this part of the right one at least, and by these at least.
const CLEARLY: (f64, f64, f64) = (0.08, 0.1, 0.8);

fn pose(question: &VivaQuestion, movement: Movement, advance: Length) -> JawPose {
    let jaw = Mechanism::new(&question.scene.instrument)
        .at(movement, Station::advanced(advance))
        .expect("a pose")
        .jaw;
    // The pose is held to the definition of the mechanism, not only taken from the solver.
    let gaps = definition::guide_gaps(&question.scene.instrument, &jaw);
    let least = gaps.iter().copied().fold(f64::INFINITY, f64::min);
    assert!(least.abs() < SOLVED, "the pin is {least} mm off its table");
    jaw
}

fn cusp(question: &VivaQuestion, tooth: sim_core::cusp::Tooth) -> &Cusp {
    question.scene.cusps.iter().find(|cusp| cusp.tooth() == tooth).expect("a cusp")
}

fn movement(working: Option<Side>) -> Movement {
    working.map_or(Movement::Protrusive, |working| Movement::Lateral { working })
}

/// What the right answer must be, by formulas of this file and by the definition of the mechanism.
fn right_number(question: &VivaQuestion) -> Option<f64> {
    let instrument = &question.scene.instrument;
    let tan = |degrees: f64| degrees.to_radians().tan();
    Some(match question.asked {
        Asked::Drop { side, advance } => {
            advance.mm() * tan(instrument.guide(side).horizontal_inclination.degrees())
        }
        Asked::MedialShift { orbiting, advance } => {
            let guide = instrument.guide(orbiting);
            guide.immediate_translation.mm() + advance.mm() * tan(guide.lateral_angle.degrees())
        }
        Asked::Rule { side } => instrument.guide(side).horizontal_inclination.degrees() / 8.0 + 12.0,
        Asked::Separation { tooth, working, advance } => {
            let jaw = pose(question, movement(working), advance);
            definition::cusp(question.scene.occlusal_plane, cusp(question, tooth), &jaw)[0]
        }
        Asked::Clearance { tooth, working, advance } => {
            let jaw = pose(question, movement(working), advance);
            definition::cusp(question.scene.occlusal_plane, cusp(question, tooth), &jaw)[1]
        }
        Asked::OpenedPath { side, .. } => {
            // A straight guide of the lower member, seen from the upper: its inclination and the opening.
            let jaw = pose(question, Movement::Protrusive, Length::from_mm(1.0));
            let forward = jaw.rotation().column(0).clone_owned();
            let h = instrument.guide(side).horizontal_inclination.degrees();
            h + (-forward.z).atan2(forward.x).to_degrees()
        }
        Asked::TracingAdvance { drawn } => {
            // The advance at which the definition's way of the front along the plane is what is drawn.
            let plane = question.scene.occlusal_plane;
            let rest = Mechanism::new(instrument).rest().expect("rest").incisal_point;
            let way = |advance: f64| {
                let placed = Mechanism::new(instrument)
                    .at(Movement::Protrusive, Station::advanced(Length::from_mm(advance)))
                    .expect("a pose");
                let moved = placed.incisal_point - rest;
                let normal = plane.normal();
                (moved - normal * moved.dot(&normal)).norm()
            };
            let (mut low, mut high) = (0.0, 20.0);
            for _ in 0..80 {
                let middle = (low + high) / 2.0;
                if way(middle) < drawn.mm() { low = middle } else { high = middle }
            }
            (low + high) / 2.0
        }
        Asked::AxisError { off, opening, .. } => 2.0 * off.mm() * (opening.radians() / 2.0).sin(),
        Asked::PartsMost { .. } | Asked::ActsMost { .. } | Asked::Split { .. } => return None,
    })
}

/// Rounding; where the guides stand unlike the jaw also rolls, and the angles add up to the second order only.
fn within(question: &VivaQuestion) -> f64 {
    if matches!(question.asked, Asked::OpenedPath { .. }) { 0.02 } else { 1e-6 }
}

fn check(question: &VivaQuestion) {
    let right = &question.answers[question.right];
    assert_eq!(question.answers.iter().filter(|answer| answer.slip.is_none()).count(), 1);
    assert!(right.slip.is_none());
    assert!(question.answers.len() >= 3);
    if let Some(expected) = right_number(question) {
        let VivaValue::Number(number) = right.value else { panic!("a number: {right:?}") };
        assert!(
            (number.number - expected).abs() < within(question),
            "{}: {expected} for {number:?}",
            question.scene.title
        );
        let least = if number.unit == Some(Unit::Degree) { CLEARLY.2 } else { CLEARLY.1 };
        let least = least.max(CLEARLY.0 * number.number.abs());
        for (place, one) in question.answers.iter().enumerate() {
            for other in &question.answers[..place] {
                let (VivaValue::Number(one), VivaValue::Number(other)) = (&one.value, &other.value) else {
                    panic!("numbers")
                };
                assert!((one.number - other.number).abs() > least, "{one:?} and {other:?}");
            }
        }
        return;
    }
    match question.asked {
        Asked::PartsMost { advance, .. } => {
            let jaw = pose(question, Movement::Protrusive, advance);
            let of = |value: &VivaValue| {
                let VivaValue::Tooth(tooth) = value else { panic!("a tooth") };
                definition::cusp(question.scene.occlusal_plane, cusp(question, *tooth), &jaw)[0]
            };
            let best = of(&right.value);
            let ahead = |answer: &sim_core::viva::VivaAnswer| best > of(&answer.value) + 0.04;
            assert!(question.answers.iter().filter(|answer| answer.slip.is_some()).all(ahead));
        }
        Asked::ActsMost { tooth, working, advance, by } => {
            let of = |value: &VivaValue| {
                let VivaValue::Change(change) = value else { panic!("a change") };
                let mut scene = question.scene.clone();
                change.make(&mut scene).expect("in range");
                // One setting only, and by as much as is said.
                let differ = sim_core::setting::all()
                    .flat_map(|setting| {
                        setting.sides().iter().map(move |side| (setting, side.unwrap_or(Side::Right)))
                    })
                    .filter_map(|(setting, side)| {
                        Some(setting.get(&scene, side)? - setting.get(&question.scene, side)?)
                    })
                    .filter(|by| *by != 0.0)
                    .collect::<Vec<_>>();
                assert_eq!(differ, [by.degrees()]);
                let jaw = Mechanism::new(&scene.instrument)
                    .at(Movement::Lateral { working }, Station::advanced(advance))
                    .expect("a pose")
                    .jaw;
                definition::cusp(scene.occlusal_plane, cusp(question, tooth), &jaw)[0]
            };
            let best = of(&right.value);
            let ahead = |answer: &sim_core::viva::VivaAnswer| best > of(&answer.value) + 0.04;
            assert!(question.answers.iter().filter(|answer| answer.slip.is_some()).all(ahead));
        }
        Asked::Split { trial, joint } => {
            let steep = trial > joint;
            let expected = if steep { Statement::OpenBehind } else { Statement::OpenInFront };
            assert_eq!(right.value, VivaValue::Statement(expected));
        }
        _ => unreachable!("a number is asked"),
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(400))]
    #[test]
    fn one_answer_is_right_and_the_others_clearly_are_not(
        seed in any::<u64>(),
        level in prop::sample::select(VivaLevel::ALL.to_vec()),
        number in 0..1_000_000_u64,
    ) {
        check(&Viva { seed, level }.question(number));
    }
}

#[test]
fn the_same_seed_gives_the_same_questions_and_every_kind_is_asked() {
    let mut kinds = std::collections::HashSet::new();
    let mut places = [0; 4];
    for level in VivaLevel::ALL {
        let viva = Viva { seed: 11, level };
        for number in 0..100 {
            let question = viva.question(number);
            assert_eq!(format!("{question:?}"), format!("{:?}", viva.question(number)));
            kinds.insert(std::mem::discriminant(&question.asked));
            places[question.right] += 1;
        }
    }
    assert_eq!(kinds.len(), 11, "kinds of question");
    // A pupil who always takes one letter gains nothing by it.
    assert!(places.iter().all(|count| *count > 30), "{places:?}");
}

#[test]
fn what_is_asked_can_be_shown() {
    for level in VivaLevel::ALL {
        for number in 0..30 {
            let question = Viva { seed: 2, level }.question(number);
            question.scene.check().expect("a scene that makes sense");
            let usual = Excursion::new(Movement::Protrusive, Drive::Advance(Length::from_mm(3.0)));
            let shown = question.excursion.unwrap_or(usual.expect("an excursion"));
            let motion = question.scene.mechanism().motion(&shown, question.scene.samples);
            assert!(motion.stopped().is_none());
        }
    }
}
