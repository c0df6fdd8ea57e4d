//! Practice: what is dealt shows its faults and no others, hides its truth, and is marked fairly.

use sim_core::frame::Side;
use sim_core::instrument::Baseline;
use sim_core::practice::{
    Answer, Check, Deal, DealError, Direction, Fault, Form, Key, Level, MarkError, SettingOutcome,
    SideAnswer, Verdict, VerdictOutcome, deal, deal_as, drawn_faults, mark,
};
use sim_core::record::Case;
use sim_core::record::program::ReadAngle;
use sim_core::scene::Scene;
use sim_core::setting::check_zeroed;
use sim_core::tracing::{USUAL_RADIUS, examine};
use whole_checks::by_hand::Bench;
use whole_checks::student::{Found, works_through};
use whole_checks::tolerance::{SOLVED, SURE};

/// What four settings and eight verdicts come to when all are right.
const FULL_POINTS: f64 = 100.0;
const VERDICT_POINTS: f64 = 5.0;
/// Two least-squares solutions of one set of landmarks are apart by the rounding of coordinates of some
/// hundred millimetres, over an advance of a few: 1e-14 radians a digit, a thousand of them left free.
const READINGS_APART_DEG: f64 = 1e-9;

fn faults_of(form: Form) -> Vec<Fault> {
    Fault::ALL.into_iter().filter(|fault| fault.is_of(form)).collect()
}

/// No fault, each by itself, all, and some sets of several.
fn fault_sets(form: Form) -> Vec<Vec<Fault>> {
    let all = faults_of(form);
    let several = (1_u32..=5).map(|number| {
        let bits = number.wrapping_mul(0x9e37_79b9) >> 20;
        all.iter().enumerate().filter(|(bit, _)| bits >> bit & 1 == 1).map(|(_, one)| *one).collect()
    });
    let singly = all.iter().map(|one| vec![*one]);
    std::iter::once(Vec::new()).chain(singly).chain(several).chain([all.clone()]).collect()
}

/// The answer of a student who does everything right with the files that are handed out.
fn measured(dealt: &Deal) -> Answer {
    let found = works_through(dealt);
    found.answer(dealt, |side| found.read[side as usize])
}

/// The answer of one who has seen the jaw.
fn knowing(dealt: &Deal, found: &Found) -> Answer {
    found.answer(dealt, |side| {
        let guide = dealt.jaw().guide(side);
        SideAnswer {
            horizontal_inclination_deg: Some(guide.horizontal_inclination.degrees()),
            lateral_angle_deg: Some(guide.lateral_angle.degrees()),
        }
    })
}

fn dealt(seed: u64, level: Level, faults: &[Fault]) -> Deal {
    deal(seed, level, faults).unwrap_or_else(|error| panic!("{level:?} {faults:?}: {error}"))
}

fn bench(seed: u64, level: Level, faults: &[Fault]) -> Deal {
    deal_as(Form::Bench, seed, level, faults).unwrap_or_else(|error| panic!("{level:?} {faults:?}: {error}"))
}

fn points(answer: &Answer, dealt: &Deal) -> f64 {
    dealt.mark(answer).unwrap().points
}

#[test]
fn the_faults_asked_for_and_no_others_show_and_who_finds_them_scores_full_and_who_misses_one_does_not() {
    for form in Form::ALL {
        for (number, faults) in fault_sets(form).into_iter().enumerate() {
            // Every fault at every level; sets of several each at one.
            let alone = faults.len() < 2;
            for level in Level::ALL.into_iter().filter(|level| alone || *level as usize == number % 3) {
                let seed = if alone { number as u64 } else { u64::MAX - number as u64 };
                let what = format!("{form:?}, {level:?}, seed {seed}, {faults:?}");
                let dealt = deal_as(form, seed, level, &faults).unwrap_or_else(|why| panic!("{what}: {why}"));
                let found = works_through(&dealt);
                assert_eq!(found.faults, faults, "{what}");
                assert_eq!(found.centric_off, dealt.centric_off(), "{what}");
                let right = found.answer(&dealt, |side| found.read[side as usize]);
                let marked = dealt.mark(&right).unwrap();
                assert_eq!(marked.points, FULL_POINTS, "{what}: {marked:?}");
                let knowing = dealt.mark(&knowing(&dealt, &found)).unwrap();
                assert_eq!(knowing.points, FULL_POINTS, "{what}: {knowing:?}");
                for check in Check::ALL.into_iter().filter(|_| alone) {
                    let other = match right.verdicts.on(check) {
                        Verdict::Rejected => Verdict::Accepted,
                        Verdict::Accepted | Verdict::Open => Verdict::Rejected,
                    };
                    let wrong = Answer { verdicts: right.verdicts.with(check, other), ..right.clone() };
                    let lost = FULL_POINTS - points(&wrong, &dealt);
                    assert!(lost >= VERDICT_POINTS, "{what}, {check:?}: {lost} lost");
                }
            }
        }
    }
}

#[test]
fn who_sets_from_what_must_be_made_again_loses_it() {
    for form in Form::ALL {
        for fault in faults_of(form) {
            let dealt = deal_as(form, 9, Level::Second, &[fault]).unwrap();
            let found = works_through(&dealt);
            let right = found.answer(&dealt, |side| found.read[side as usize]);
            let truth = |side| {
                let guide = dealt.jaw().guide(side);
                SideAnswer {
                    horizontal_inclination_deg: Some(guide.horizontal_inclination.degrees()),
                    lateral_angle_deg: Some(guide.lateral_angle.degrees()),
                }
            };
            let all = Answer { right: truth(Side::Right), left: truth(Side::Left), ..right.clone() };
            let open = [&right.right, &right.left]
                .into_iter()
                .flat_map(|side| [side.horizontal_inclination_deg, side.lateral_angle_deg])
                .filter(Option::is_none)
                .count();
            let wanted = match fault {
                Fault::DoubleTracing | Fault::TippedPlate | Fault::WrongCentric => 4,
                Fault::ShortProtrusion | Fault::UnperforatedProtrusion | Fault::ResilientTissue => 2,
                Fault::SwappedSides if form == Form::Bench => 2,
                Fault::UnperforatedLateral | Fault::UnlockedGuide => 1,
                _ => 0,
            };
            assert_eq!(open, wanted, "{form:?}, {fault:?}");
            // However near the truth.
            assert_eq!(points(&all, &dealt), FULL_POINTS - 15.0 * open as f64, "{form:?}, {fault:?}");
            // And what is left open without a word of why is not rightly left open.
            let silent = right.verdicts.with(fault.check(), Verdict::Open);
            let silent = Answer { verdicts: silent, ..right };
            let lost = VERDICT_POINTS + 15.0 * open as f64;
            assert_eq!(points(&silent, &dealt), FULL_POINTS - lost, "{form:?}, {fault:?}");
        }
    }
}

#[test]
fn a_wrong_centric_record_is_dealt_in_every_direction_and_half_of_its_points_are_for_naming_it() {
    for form in Form::ALL {
        let mut met = Vec::new();
        for seed in 0..16 {
            if met.len() == 4 {
                break;
            }
            let dealt = deal_as(form, seed, Level::Third, &[Fault::WrongCentric]).unwrap();
            let right = measured(&dealt);
            let off = dealt.centric_off().unwrap();
            assert_eq!((points(&right, &dealt), right.verdicts.centric_off), (FULL_POINTS, Some(off)));
            if met.contains(&off) {
                continue;
            }
            met.push(off);
            for named in Direction::ALL.map(Some).into_iter().chain([None]).filter(|one| *one != Some(off)) {
                let mut other = right.clone();
                other.verdicts.centric_off = named;
                assert_eq!(points(&other, &dealt), FULL_POINTS - VERDICT_POINTS / 2.0);
            }
        }
        assert_eq!(met.len(), 4, "{form:?}: {met:?}");
    }
    // And the program says the same, where it has coordinates.
    let dealt = dealt(2, Level::First, &[Fault::WrongCentric]);
    let said = words::verdict::centric::tentative_is_off(&dealt.case.program().unwrap().centric.unwrap());
    let off = dealt.centric_off().unwrap().name().to_lowercase();
    assert!(said.contains(&format!("too far {off}")), "{off}: {said}");
}

#[test]
fn the_program_gets_the_truth_from_a_sound_deal_at_the_bench() {
    for level in Level::ALL {
        for seed in 0..12 {
            let dealt = bench(seed, level, &[]);
            let done = dealt.case.program().unwrap();
            assert_eq!(done.warnings, [], "{level:?}, seed {seed}");
            for side in Side::BOTH {
                let (settings, truth) = (done.side(side).unwrap(), dealt.jaw().guide(side));
                let near = |read: &ReadAngle, truth: sim_core::units::Angle, what: &str| {
                    let off = (read.value - truth).degrees().abs();
                    // Every one of 216, normal: none past five standard errors.
                    let error = read.standard_error.unwrap().degrees();
                    assert!(
                        off < 5.0 * error && error < 1.0,
                        "{level:?} {seed} {side} {what}: {off}° ± {error}°"
                    );
                };
                near(&settings.horizontal_inclination.angle, truth.horizontal_inclination, "H");
                near(&settings.lateral_angle.angle, truth.lateral_angle, "L");
                let by_gaps = done.gaps.as_ref().unwrap().horizontal_inclination[side].as_ref().unwrap();
                near(by_gaps, truth.horizontal_inclination, "H by gaps");
            }
        }
    }
}

#[test]
fn what_the_bench_deals_can_be_read_there() {
    for level in Level::ALL {
        let dealt = bench(4, level, &[]);
        assert!(dealt.case.lower_landmarks.is_none());
        let text = dealt.case.to_ron();
        assert_eq!(Case::from_ron(&text).unwrap(), dealt.case);
        for record in &dealt.case.records {
            match record {
                sim_core::record::RecordFields::GrooveGaps(gaps) => {
                    assert_eq!(gaps.gaps_mm.len(), 6);
                    for gap in &gaps.gaps_mm {
                        assert!((gap / 0.05 - (gap / 0.05).round()).abs() < 1e-9, "no caliper shows {gap}");
                    }
                    assert_eq!((gaps.set_at.right_deg.fract(), gaps.set_at.left_deg.fract()), (0.0, 0.0));
                }
                sim_core::record::RecordFields::ScaleReadings(readings) => {
                    for side in Side::BOTH {
                        let read = readings.of(side);
                        assert!(read.len() == 4 || read.is_empty());
                        assert!(read.iter().all(|angle| angle.fract() == 0.0), "{read:?}");
                    }
                }
                other => panic!("{other:?} is no record of the bench"),
            }
        }
    }
    let refused = deal(1, Level::First, &[Fault::UnlockedGuide]).unwrap_err();
    assert_eq!(refused, DealError::NotShown { fault: Fault::UnlockedGuide });
}

#[test]
fn the_marker_reads_from_the_records_what_is_measured_in_them_by_hand() {
    for level in Level::ALL {
        for seed in 100..110 {
            let dealt = dealt(seed, level, &[Fault::SwappedSides]);
            for one in dealt.mark(&measured(&dealt)).unwrap().settings {
                let apart = (one.answer.unwrap() - one.read.unwrap()).degrees().abs();
                assert!(apart <= READINGS_APART_DEG, "{level:?}, seed {seed}: {apart}° {one:?}");
            }
        }
    }
}

#[test]
fn each_fault_is_warned_of_by_the_program_in_its_own_way() {
    let shows = |fault| dealt(5, Level::Second, &[fault]);
    let centric = shows(Fault::WrongCentric).case.program().unwrap();
    assert!(!centric.centric.unwrap().confirmed && centric.settings.is_none());
    let short = shows(Fault::ShortProtrusion).case.program().unwrap();
    assert!(
        short.warnings.iter().any(|one| words::verdict::warning::warning(one).contains("short of the usual"))
    );
    let sides = shows(Fault::SwappedSides).case.program().unwrap_err();
    assert!(sides.to_string().contains("has advanced"), "{sides}");
    let unperforated = shows(Fault::UnperforatedLateral).case.program().unwrap();
    assert!(
        unperforated
            .warnings
            .iter()
            .any(|one| words::verdict::warning::warning(one).contains("not gone through"))
    );
    for (fault, key) in [
        (Fault::UnzeroedGuide, "_guide"),
        (Fault::PinNotFlush, "pin_extension_mm"),
        (Fault::WingNotZeroed, "_wing_deg"),
    ] {
        let left = check_zeroed(&shows(fault).instrument.instrument, &Baseline::example());
        let is_it = |one: &sim_core::setting::Departure| one.key.contains(key) || one.side.is_some();
        assert!(!left.is_empty() && left.iter().all(is_it), "{fault:?}: {left:?}");
    }
    let twice = examine(&shows(Fault::DoubleTracing).tracing, USUAL_RADIUS).unwrap();
    assert!(twice.second_apex.is_some());
    let none = dealt(5, Level::Second, &[]);
    assert_eq!(none.case.program().unwrap().warnings, []);
    assert_eq!(check_zeroed(&none.instrument.instrument, &Baseline::example()), []);
    assert_eq!(examine(&none.tracing, USUAL_RADIUS).unwrap().objections(), []);
}

#[test]
fn a_deal_is_the_same_for_the_same_seed_and_another_for_another() {
    let one = |seed, level| dealt(seed, level, &[Fault::ShortProtrusion]);
    let first = one(1, Level::Third);
    let again = one(1, Level::Third);
    assert_eq!((first.number, &first.case, &first.key), (again.number, &again.case, &again.key));
    assert_ne!(first.number, one(2, Level::Third).number);
    assert_ne!(first.number, one(1, Level::Second).number);
    // The order and number of times that a fault is asked for play no part.
    let twice = dealt(1, Level::Third, &[Fault::ShortProtrusion, Fault::ShortProtrusion]);
    assert_eq!(twice.number, first.number);
    for form in Form::ALL {
        assert_eq!(drawn_faults(7, form), drawn_faults(7, form));
        let drawn: Vec<_> = (0..200).map(|seed| drawn_faults(seed, form)).collect();
        let of_form = faults_of(form);
        assert!(of_form.iter().all(|fault| drawn.iter().any(|faults| faults.contains(fault))));
        assert!(drawn.iter().flatten().all(|fault| of_form.contains(fault)));
        for count in 0..=3 {
            let so_many = drawn.iter().filter(|faults| faults.len() == count).count();
            assert!((25..=75).contains(&so_many), "{count} faults: {so_many} of 200");
        }
        assert!(drawn.iter().all(|faults| faults.len() <= 3));
    }
}

#[test]
fn what_is_handed_out_holds_neither_seed_nor_truth() {
    let seed = 0x5eed_0f7e_57ab_1e42;
    for (form, level) in Form::ALL.into_iter().flat_map(|form| Level::ALL.map(|level| (form, level))) {
        let dealt = deal_as(form, seed, level, &[Fault::SwappedSides]).unwrap();
        let out = [dealt.case.to_ron(), dealt.instrument.to_ron(), Answer::form(dealt.number)].concat();
        assert!(!out.contains(&seed.to_string()), "the seed");
        for side in Side::BOTH {
            let guide = dealt.jaw().guide(side);
            for angle in [guide.horizontal_inclination, guide.lateral_angle] {
                assert!(!out.contains(&format!("{:.3}", angle.degrees())), "{angle:?}");
            }
        }
        for word in ["Swapped", "fault", "seed"] {
            assert!(
                !dealt.case.to_ron().contains(word) && !dealt.instrument.to_ron().contains(word),
                "{word}"
            );
        }
        let kinds: Vec<_> = dealt.case.records.iter().map(|record| record.kind().name()).collect();
        assert!(kinds.ends_with(&["right_lateral", "left_lateral"]), "their order tells nothing: {kinds:?}");
        // And it is files of the kinds that the other commands read.
        assert_eq!(Case::from_ron(&dealt.case.to_ron()).unwrap(), dealt.case);
        assert_eq!(Scene::from_ron(&dealt.instrument.to_ron()).unwrap(), dealt.instrument);
    }
}

#[test]
fn the_records_of_a_sound_deal_give_the_truth_as_nearly_as_they_say() {
    for level in Level::ALL {
        let mut sum = 0.0;
        let seeds = 0..40;
        for seed in seeds.clone() {
            let dealt = dealt(seed, level, &[]);
            let done = dealt.case.program().unwrap();
            for side in Side::BOTH {
                let (settings, truth) = (done.side(side).unwrap(), dealt.jaw().guide(side));
                let pairs = [
                    (&settings.horizontal_inclination.angle, truth.horizontal_inclination),
                    (&settings.lateral_angle.angle, truth.lateral_angle),
                ];
                for (read, truth) in pairs {
                    let error = (read.value - truth).degrees() / read.standard_error.unwrap().degrees();
                    sum += error * error;
                }
            }
        }
        // Four a deal; deals with a warning by chance are dealt again, which takes the tails off a
        // little. Both sides of a deal share landmarks: its four count as two.
        let (count, free) = (4.0 * seeds.end as f64, 2.0 * seeds.end as f64);
        let ratio = sum / count;
        println!("{level:?}: mean square error over stated {ratio:.2}");
        assert!((ratio - 1.0).abs() <= SURE * (2.0 / free).sqrt(), "{level:?}: {ratio}");
    }
}

#[test]
fn a_wrong_answer_loses_points_and_is_told_why() {
    let dealt = dealt(11, Level::First, &[Fault::UnzeroedGuide]);
    let mut answer = measured(&dealt);
    let h = answer.left.horizontal_inclination_deg.unwrap();
    answer.left.horizontal_inclination_deg = Some(h + 4.0);
    answer.verdicts.guides = Verdict::Accepted;
    answer.verdicts.lateral_records = Verdict::Rejected;
    answer.verdicts.protrusive_record = Verdict::Open;
    let mark = mark(&answer, &dealt.key).unwrap();
    let outcomes: Vec<_> = mark.verdicts.iter().map(|one| one.outcome).collect();
    assert_eq!(
        outcomes,
        [
            VerdictOutcome::RightlyAccepted,
            VerdictOutcome::RightlyAccepted,
            VerdictOutcome::OpenSound,
            VerdictOutcome::WronglyClaimed,
            VerdictOutcome::Missed,
            VerdictOutcome::RightlyAccepted,
            VerdictOutcome::RightlyAccepted,
            VerdictOutcome::RightlyAccepted,
        ]
    );
    let left = &mark.settings[2];
    let SettingOutcome::Off { beyond } = left.outcome else { panic!("{left:?}") };
    assert!(beyond.degrees() > 2.0 && beyond.degrees() <= 4.0, "{beyond:?}");
    // Three points a degree.
    assert!((left.points - (15.0 - 3.0 * beyond.degrees())).abs() < SOLVED);
    assert!((mark.points - (45.0 + left.points + 25.0)).abs() < SOLVED, "{}", mark.points);
    // A steeper left guide opens the left molars in protrusion.
    let molar =
        mark.disclusion.iter().find(|one| one.movement.name() == "protrusive" && one.tooth.number() == 37);
    let molar = molar.unwrap();
    assert!(molar.answer > molar.truth, "{molar:?}");
    assert_eq!(mark.disclusion.len(), 18);
}

#[test]
fn with_a_wrong_centric_record_settings_are_to_be_withheld() {
    let dealt = dealt(3, Level::Second, &[Fault::WrongCentric]);
    let withheld = measured(&dealt);
    assert_eq!(withheld.right, SideAnswer::default());
    assert_eq!(dealt.mark(&withheld).unwrap().points, FULL_POINTS);

    let set = SideAnswer { horizontal_inclination_deg: Some(30.0), lateral_angle_deg: Some(15.0) };
    let given = Answer { right: set, left: set, ..withheld.clone() };
    let marked = dealt.mark(&given).unwrap();
    assert_eq!(marked.points, 40.0);
    assert!(marked.settings.iter().all(|one| one.outcome == SettingOutcome::FromFaulty));

    let mut silent = withheld;
    silent.verdicts.centric_record = Verdict::Open;
    let marked = dealt.mark(&silent).unwrap();
    assert_eq!(marked.points, 35.0);
    assert!(marked.settings.iter().all(|one| one.outcome == SettingOutcome::NotSaid));
}

#[test]
fn h_is_left_open_where_the_protrusive_record_is_rejected_and_l_is_not() {
    let dealt = dealt(5, Level::Second, &[Fault::ShortProtrusion]);
    let right = measured(&dealt);
    assert_eq!(right.right.horizontal_inclination_deg, None);
    let outcomes = |answer: &Answer| {
        let marked = dealt.mark(answer).unwrap();
        (marked.points, [0, 1, 2, 3].map(|index| marked.settings[index].outcome.name()))
    };
    let (points, judged) = outcomes(&right);
    assert_eq!(points, FULL_POINTS);
    assert_eq!((judged[0], judged[2]), ("withheld", "withheld"));

    // H as the rejected record gives it is no good, however near.
    let bench = Bench::new(&dealt.case);
    let taken =
        Answer { right: bench.settings(Side::Right), left: bench.settings(Side::Left), ..right.clone() };
    let (points, judged) = outcomes(&taken);
    assert_eq!(points, FULL_POINTS - 30.0);
    assert_eq!((judged[0], judged[2]), ("from_faulty", "from_faulty"));

    // L is set by the lateral records, which are sound.
    let mut timid = right.clone();
    timid.left.lateral_angle_deg = None;
    let (points, judged) = outcomes(&timid);
    assert_eq!((points, judged[3]), (FULL_POINTS - 15.0, "not_given"));

    // Who leaves H open without saying why has found nothing.
    let mut silent = right;
    silent.verdicts.protrusive_record = Verdict::Accepted;
    let (points, judged) = outcomes(&silent);
    assert_eq!((points, judged[0]), (FULL_POINTS - 30.0 - VERDICT_POINTS, "not_said"));
}

#[test]
fn lateral_records_with_the_wrong_labels_serve_once_relabelled_or_are_taken_again() {
    let dealt = dealt(5, Level::Second, &[Fault::SwappedSides]);
    let relabelled = measured(&dealt);
    assert_eq!(dealt.mark(&relabelled).unwrap().points, FULL_POINTS);
    let mut again = relabelled.clone();
    (again.right.lateral_angle_deg, again.left.lateral_angle_deg) = (None, None);
    assert_eq!(dealt.mark(&again).unwrap().points, FULL_POINTS);
    again.verdicts.lateral_records = Verdict::Accepted;
    assert_eq!(dealt.mark(&again).unwrap().points, FULL_POINTS - 30.0 - VERDICT_POINTS);
}

#[test]
fn the_empty_form_is_an_answer_that_scores_nothing() {
    for form in Form::ALL {
        for faults in [vec![], vec![Fault::WrongCentric], faults_of(form)] {
            let dealt = deal_as(form, 8, Level::First, &faults).unwrap();
            let empty = Answer::from_ron(&Answer::form(dealt.number)).unwrap();
            let marked = mark(&empty, &dealt.key).unwrap();
            assert_eq!(marked.points, 0.0, "{faults:?}");
            assert!(marked.disclusion.is_empty());
        }
    }
}

#[test]
fn answers_and_keys_are_written_back_as_they_were_read() {
    let dealt = dealt(21, Level::Third, &[Fault::ShortProtrusion, Fault::PinNotFlush]);
    assert_eq!(Key::from_ron(&dealt.key.to_ron()).unwrap(), dealt.key);
    let answer = measured(&dealt);
    assert_eq!(Answer::from_ron(&answer.to_ron()).unwrap(), answer);
    let big = Key { seed: u64::MAX, ..dealt.key };
    assert_eq!(Key::from_ron(&big.to_ron()).unwrap(), big);
}

#[test]
fn an_answer_to_another_deal_and_a_changed_key_are_refused() {
    let (one, other) = (dealt(1, Level::First, &[]), dealt(2, Level::First, &[]));
    let refused = mark(&measured(&one), &other.key).unwrap_err();
    assert_eq!(refused, MarkError::OtherDeal { answer: one.number, key: other.number });
    let changed = Key { seed: 2, ..one.key.clone() };
    let refused = mark(&measured(&one), &changed).unwrap_err();
    assert!(matches!(refused, MarkError::Key(DealError::OtherVersion { .. })), "{refused}");
}

#[test]
fn answers_that_are_none_are_refused_with_place_and_reason() {
    let form = Answer::form(dealt(1, Level::First, &[]).number);
    let refused = |what: &str, with: &str, parts: &[&str]| {
        assert!(form.contains(what), "{what}");
        let error = Answer::from_ron(&form.replacen(what, with, 1)).expect_err(with);
        for part in parts {
            assert!(error.to_string().contains(part), "{with:?}: {error} has no {part:?}");
        }
    };
    let h = "right: (horizontal_inclination_deg: None";
    let set = |given: &str| h.replace("None", given);
    refused(h, &set("NaN"), &["right.horizontal_inclination_deg is NaN", "not a finite number"]);
    refused(h, &set("90.0"), &["90", "-30 to 85 degrees", "line 8"]);
    refused(h, &set("\"steep\""), &["right.horizontal_inclination_deg"]);
    refused("left: (", "left: (bennett: 3.0, ", &["bennett", "lateral_angle_deg"]);
    refused("    pin: Open,", "", &["pin"]);
    refused("pin: Open", "pin: Fine", &["Fine", "Accepted"]);
    refused("centric_off: None", "centric_off: Up", &["Up", "Forward"]);
    refused("deal: \"", "deal: \"x", &["4f2a-91c3"]);
    for end in [0, form.len() / 2, form.len() - 4] {
        assert!(Answer::from_ron(&form[..end]).is_err());
    }
    let key = dealt(1, Level::First, &[]).key.to_ron();
    for (what, with) in
        [("seed: 1", "seed: -1"), ("seed: 1", "seed: 1.5"), ("First", "Fourth"), ("level", "lever")]
    {
        assert!(key.contains(what), "{key}");
        let error = Key::from_ron(&key.replacen(what, with, 1)).expect_err(with);
        assert!(error.line > 1, "{error}");
    }
}
