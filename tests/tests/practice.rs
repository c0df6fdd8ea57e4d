//! Practice: what is dealt shows its faults and no others, hides its truth, and is marked fairly.

use sim_core::frame::Side;
use sim_core::instrument::Baseline;
use sim_core::practice::{
    Answer, Deal, DealError, Fault, Key, Level, MarkError, SettingOutcome, SideAnswer, Verdict,
    VerdictOutcome, Verdicts, deal, drawn_faults, mark,
};
use sim_core::record::Case;
use sim_core::scene::Scene;
use sim_core::setting::check_zeroed;
use whole_checks::by_hand::Bench;
use whole_checks::tolerance::{SOLVED, SURE};

/// What four settings and four verdicts come to when all are right.
const FULL_POINTS: f64 = 100.0;
/// Two least-squares solutions of one set of landmarks are apart by the rounding of coordinates of some
/// hundred millimetres, over an advance of a few: 1e-14 radians a digit, a thousand of them left free.
const READINGS_APART_DEG: f64 = 1e-9;

/// Every set of faults.
fn fault_sets() -> impl Iterator<Item = Vec<Fault>> {
    (0_u32..16).map(|bits| {
        Fault::ALL
            .into_iter()
            .enumerate()
            .filter(|(bit, _)| bits >> bit & 1 == 1)
            .map(|(_, one)| one)
            .collect()
    })
}

/// Accepts what is sound and rejects what is not.
fn verdicts(faults: &[Fault]) -> Verdicts {
    let on = |fault| if faults.contains(&fault) { Verdict::Rejected } else { Verdict::Accepted };
    Verdicts {
        centric_record: on(Fault::WrongCentric),
        protrusive_record: on(Fault::ShortProtrusion),
        lateral_records: on(Fault::SwappedSides),
        instrument: on(Fault::UnzeroedInstrument),
    }
}

/// An answer with these settings, but for those that rest on a record to be taken again first.
fn answer(dealt: &Deal, faults: &[Fault], settings: impl Fn(Side) -> SideAnswer) -> Answer {
    let set = |side| {
        let mut set = settings(side);
        if faults.contains(&Fault::WrongCentric) {
            set = SideAnswer::default();
        }
        if faults.contains(&Fault::ShortProtrusion) {
            set.horizontal_inclination_deg = None;
        }
        set
    };
    Answer { deal: dealt.number, right: set(Side::Right), left: set(Side::Left), verdicts: verdicts(faults) }
}

/// The answer of a student who does everything right with the files that are handed out.
fn measured(dealt: &Deal) -> Answer {
    let bench = Bench::new(&dealt.case);
    answer(dealt, &bench.faults(&dealt.instrument.instrument), |side| bench.settings(side))
}

/// The answer of one who has seen the jaw.
fn knowing(dealt: &Deal) -> Answer {
    answer(dealt, &dealt.key.faults, |side| {
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

#[test]
fn the_faults_asked_for_and_no_others_are_in_the_numbers_handed_out_and_who_measures_them_scores_full() {
    for level in Level::ALL {
        for (number, faults) in fault_sets().enumerate() {
            for seed in [number as u64, u64::MAX - number as u64] {
                let dealt = dealt(seed, level, &faults);
                let by_hand = Bench::new(&dealt.case).faults(&dealt.instrument.instrument);
                assert_eq!(by_hand, faults, "{level:?}, seed {seed}");
                let measured = mark(&measured(&dealt), &dealt.key).unwrap();
                assert_eq!(measured.points, FULL_POINTS, "{level:?}, seed {seed}: {measured:?}");
                let knowing = mark(&knowing(&dealt), &dealt.key).unwrap();
                assert_eq!(knowing.points, FULL_POINTS, "{level:?}, seed {seed}: {knowing:?}");
            }
        }
    }
}

#[test]
fn the_marker_reads_from_the_records_what_is_measured_in_them_by_hand() {
    for level in Level::ALL {
        for seed in 100..110 {
            let dealt = dealt(seed, level, &[Fault::SwappedSides]);
            for one in mark(&measured(&dealt), &dealt.key).unwrap().settings {
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
    let set = shows(Fault::UnzeroedInstrument);
    assert!(!check_zeroed(&set.instrument.instrument, &Baseline::example()).is_empty());
    let none = dealt(5, Level::Second, &[]);
    assert_eq!(none.case.program().unwrap().warnings, []);
    assert_eq!(check_zeroed(&none.instrument.instrument, &Baseline::example()), []);
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
    assert_eq!(drawn_faults(7), drawn_faults(7));
    let drawn: Vec<_> = (0..64).map(drawn_faults).collect();
    assert!(Fault::ALL.iter().all(|fault| drawn.iter().any(|faults| faults.contains(fault))));
    assert!(drawn.iter().any(Vec::is_empty));
}

#[test]
fn what_is_handed_out_holds_neither_seed_nor_truth() {
    let seed = 0x5eed_0f7e_57ab_1e42;
    for level in Level::ALL {
        let dealt = dealt(seed, level, &[Fault::SwappedSides]);
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
        let seeds = 0..60;
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
    let dealt = dealt(11, Level::First, &[Fault::UnzeroedInstrument]);
    let mut answer = measured(&dealt);
    let h = answer.left.horizontal_inclination_deg.unwrap();
    answer.left.horizontal_inclination_deg = Some(h + 4.0);
    answer.verdicts.instrument = Verdict::Accepted;
    answer.verdicts.lateral_records = Verdict::Rejected;
    answer.verdicts.protrusive_record = Verdict::Open;
    let mark = mark(&answer, &dealt.key).unwrap();
    let outcomes: Vec<_> = mark.verdicts.iter().map(|one| one.outcome).collect();
    assert_eq!(
        outcomes,
        [
            VerdictOutcome::RightlyAccepted,
            VerdictOutcome::OpenSound,
            VerdictOutcome::WronglyClaimed,
            VerdictOutcome::Missed
        ]
    );
    let left = &mark.settings[2];
    let SettingOutcome::Off { beyond } = left.outcome else { panic!("{left:?}") };
    assert!(beyond.degrees() > 2.0 && beyond.degrees() <= 4.0, "{beyond:?}");
    // Three points a degree.
    assert!((left.points - (15.0 - 3.0 * beyond.degrees())).abs() < SOLVED);
    assert!((mark.points - (45.0 + left.points + 10.0)).abs() < SOLVED, "{}", mark.points);
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
    assert_eq!(mark(&withheld, &dealt.key).unwrap().points, FULL_POINTS);

    let set = SideAnswer { horizontal_inclination_deg: Some(30.0), lateral_angle_deg: Some(15.0) };
    let given = Answer { right: set, left: set, ..withheld.clone() };
    let marked = mark(&given, &dealt.key).unwrap();
    assert_eq!(marked.points, 40.0);
    assert!(marked.settings.iter().all(|one| one.outcome == SettingOutcome::FromFaulty));

    let mut silent = withheld;
    silent.verdicts.centric_record = Verdict::Open;
    let marked = mark(&silent, &dealt.key).unwrap();
    assert_eq!(marked.points, 30.0);
    assert!(marked.settings.iter().all(|one| one.outcome == SettingOutcome::NotSaid));
}

#[test]
fn h_is_left_open_where_the_protrusive_record_is_rejected_and_l_is_not() {
    let dealt = dealt(5, Level::Second, &[Fault::ShortProtrusion]);
    let right = measured(&dealt);
    assert_eq!(right.right.horizontal_inclination_deg, None);
    let outcomes = |answer: &Answer| {
        let marked = mark(answer, &dealt.key).unwrap();
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
    assert_eq!((points, judged[0]), (FULL_POINTS - 30.0 - 10.0, "not_said"));
}

#[test]
fn lateral_records_with_the_wrong_labels_serve_once_relabelled_or_are_taken_again() {
    let dealt = dealt(5, Level::Second, &[Fault::SwappedSides]);
    let relabelled = measured(&dealt);
    assert_eq!(mark(&relabelled, &dealt.key).unwrap().points, FULL_POINTS);
    let mut again = relabelled.clone();
    (again.right.lateral_angle_deg, again.left.lateral_angle_deg) = (None, None);
    assert_eq!(mark(&again, &dealt.key).unwrap().points, FULL_POINTS);
    again.verdicts.lateral_records = Verdict::Accepted;
    assert_eq!(mark(&again, &dealt.key).unwrap().points, FULL_POINTS - 30.0 - 10.0);
}

#[test]
fn the_empty_form_is_an_answer_that_scores_nothing() {
    for faults in fault_sets() {
        let dealt = dealt(8, Level::First, &faults);
        let empty = Answer::from_ron(&Answer::form(dealt.number)).unwrap();
        let marked = mark(&empty, &dealt.key).unwrap();
        assert_eq!(marked.points, 0.0, "{faults:?}");
        assert!(marked.disclusion.is_empty());
    }
}

#[test]
fn answers_and_keys_are_written_back_as_they_were_read() {
    let dealt = dealt(21, Level::Third, &[Fault::ShortProtrusion, Fault::UnzeroedInstrument]);
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
    refused(h, &set("90.0"), &["90", "-30 to 85 degrees", "line 7"]);
    refused(h, &set("\"steep\""), &["right.horizontal_inclination_deg"]);
    refused("left: (", "left: (bennett: 3.0, ", &["bennett", "lateral_angle_deg"]);
    refused("    instrument: Open,", "", &["instrument"]);
    refused("instrument: Open", "instrument: Fine", &["Fine", "Accepted"]);
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
