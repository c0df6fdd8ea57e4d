//! `practice`: dealt, worked through with the other commands, answered and marked.

use serde_json::Value;

use crate::helpers::{Folder, Left, assert_near, json, number, run};

fn refused(left: &Left, words: &[&str]) {
    assert_eq!(left.status, 2, "{}{}", left.out, left.err);
    assert!(!left.err.contains("panicked"), "{}", left.err);
    for word in words {
        assert!(left.err.contains(word), "{word:?} not in: {}", left.err);
    }
}

/// A deal on disk.
struct Dealt {
    folder: Folder,
    key: String,
}

impl Dealt {
    fn new(options: &[&str]) -> Self {
        let folder = Folder::new();
        let (out, key) = (folder.shell("out"), folder.shell("key.ron"));
        let left = run(&[&["practice", "deal", &out, "--key", &key], options].concat());
        assert_eq!(left.status, 0, "{}", left.err);
        for word in ["hand out", "keep", "patient.ron", "key.ron", "verified on the patient"] {
            assert!(left.out.contains(word), "{word:?} not in: {}", left.out);
        }
        Self { folder, key }
    }

    fn path(&self, name: &str) -> String {
        self.folder.shell(&format!("out/{name}"))
    }

    fn text(&self, name: &str) -> String {
        std::fs::read_to_string(self.path(name)).unwrap()
    }

    /// The empty answer with texts in it replaced, marked.
    fn marked(&self, changes: &[(&str, &str)]) -> Value {
        let path = self.answer(changes);
        json(&["practice", "mark", &path, "--key", &self.key, "--format", "json"])
    }

    fn answer(&self, changes: &[(&str, &str)]) -> String {
        let mut form = self.text("answer.ron");
        for (what, with) in changes {
            assert!(form.contains(what), "{what} is in {form}");
            form = form.replacen(what, with, 1);
        }
        self.folder.file("filled.ron", form)
    }

    /// A perfect answer made as a student would: with `program`, `tracing` and `baseline`, and by reading
    /// what the observer wrote.
    fn found(&self) -> Vec<(String, String)> {
        let mut found = Vec::new();
        let mut verdict = |field: &str, fault: bool| {
            let word = if fault { "Rejected" } else { "Accepted" };
            found.push((format!("{field}: Open"), format!("{field}: {word}")));
            fault
        };
        let baseline = json(&["baseline", &self.path("instrument.ron"), "--format", "json"]);
        let checks = baseline["checklist"].as_array().unwrap();
        let departs: String = checks.iter().map(|check| check["departures"].to_string()).collect();
        verdict("guides", departs.replace("anterior_guide.", "").contains("_guide."));
        verdict("pin", departs.contains("pin_extension_mm"));
        verdict("table", departs.contains("_wing_deg"));
        // Landmarks show nothing of a lock.
        verdict("locks", false);
        let tracing = run(&["tracing", &self.path("tracing.csv")]);
        let observed = self.text("observed.txt");
        let tilt = observed.split("plate stands at ").nth(1).unwrap().split('°').next().unwrap();
        let traced = verdict("tracing", tracing.status == 1 || tilt.parse::<f64>().unwrap() > 5.0);
        let mut programmed = run(&["program", &self.path("patient.ron"), "--format", "json"]);
        let swapped =
            programmed.err.contains("has advanced") || programmed.out.contains("are the sides swapped");
        if programmed.status == 2 {
            let text = self.text("patient.ron");
            let text = text
                .replace("RightLateral", "#")
                .replace("LeftLateral", "RightLateral")
                .replace('#', "LeftLateral");
            let mended = self.folder.file("mended.ron", text);
            programmed = run(&["program", &mended, "--format", "json"]);
        }
        let seen: Value = serde_json::from_str(&programmed.out).unwrap();
        let warnings = seen["warnings"].to_string();
        verdict("lateral_records", swapped || warnings.contains("lateral record)"));
        let off = verdict("centric_record", seen["centric"]["confirmed"] == false);
        let no_h = verdict(
            "protrusive_record",
            warnings.contains("short of the usual") || warnings.contains("(protrusive record)"),
        );
        if off {
            let text = run(&["program", &self.path("patient.ron")]).out;
            let most = ["forward", "back", "left", "right"].into_iter().max_by(|one, other| {
                let far = |way: &str| -> f64 {
                    let said = text
                        .split(&format!(" mm too far {way}"))
                        .next()
                        .filter(|said| said.len() < text.len());
                    let number = said.and_then(|said| said.rsplit([' ', '\n']).next());
                    number.map_or(0.0, |number| number.parse().unwrap())
                };
                far(one).total_cmp(&far(other))
            });
            let named = match most.unwrap() {
                "forward" => "Forward",
                "back" => "Back",
                "left" => "Left",
                _ => "Right",
            };
            found.push(("centric_off: None".to_owned(), format!("centric_off: {named}")));
        }
        for (side, orbits_in) in [("right", "(left lateral record)"), ("left", "(right lateral record)")] {
            let own = &seen["settings"][side];
            if own.is_null() || traced {
                continue;
            }
            let angle = |name: &str, open: bool| {
                if open { "None".to_owned() } else { format!("{:?}", number(&own[name], "value").round()) }
            };
            found.push((
                format!("{side}: (horizontal_inclination_deg: None, lateral_angle_deg: None)"),
                format!(
                    "{side}: (horizontal_inclination_deg: {}, lateral_angle_deg: {})",
                    angle("horizontal_inclination_deg", no_h),
                    angle("lateral_angle_deg", warnings.contains(orbits_in))
                ),
            ));
        }
        found
    }
}

fn pairs(found: &[(String, String)]) -> Vec<(&str, &str)> {
    found.iter().map(|(what, with)| (what.as_str(), with.as_str())).collect()
}

#[test]
fn a_perfect_answer_found_with_the_other_commands_scores_full_at_every_level_and_fault() {
    let faults: [&[&str]; 7] = [
        &["--fault", "wrong-centric", "--fault", "wing-not-zeroed"],
        &["--fault", "short-protrusion", "--fault", "pin-not-flush"],
        &["--fault", "swapped-sides"],
        &["--fault", "unperforated-lateral", "--fault", "unzeroed-guide"],
        &["--fault", "unperforated-protrusion"],
        &["--fault", "double-tracing"],
        &["--fault", "tipped-plate", "--fault", "wrong-centric", "--fault", "swapped-sides"],
    ];
    for (level, faults) in
        ["first", "second", "third"].iter().flat_map(|level| faults.map(|one| (level, one)))
    {
        let dealt = Dealt::new(&[&["--level", level, "--seed", "12"], faults].concat());
        let mark = dealt.marked(&pairs(&dealt.found()));
        assert_eq!(number(&mark, "points"), 100.0, "{level} {faults:?}: {mark}");
    }
}

#[test]
fn a_wrong_answer_is_told_what_it_lost_and_what_it_does_to_the_teeth() {
    let dealt = Dealt::new(&["--seed", "12", "--fault", "pin-not-flush"]);
    let mut found = dealt.found();
    for (_, with) in &mut found {
        *with = with.replace("pin: Rejected", "pin: Accepted");
        if with.starts_with("left: (") {
            *with = "left: (horizontal_inclination_deg: 60.0, lateral_angle_deg: None)".to_owned();
        }
    }
    let mark = dealt.marked(&pairs(&found));
    assert_near(number(&mark, "points"), 65.0, 1e-9);
    let left = &mark["settings"][2];
    assert_eq!((left["outcome"].as_str(), number(left, "points")), (Some("off"), 0.0));
    assert_eq!(mark["settings"][3]["outcome"], "not_given");
    assert_eq!(
        (&mark["verdicts"][6]["on"], &mark["verdicts"][6]["outcome"]),
        (&"pin".into(), &"missed".into())
    );
    assert_eq!(mark["disclusion"].as_array().unwrap().len(), 0, "a setting is not given");
    let filled = dealt.folder.shell("filled.ron");
    let table = run(&["practice", "mark", &filled, "--key", &dealt.key]);
    assert_eq!(table.status, 0);
    for word in [
        "65.0 of 100 points",
        "missed: the pin is not flush",
        "not given, though",
        "beyond what the records allow",
        "Each degree farther",
        "verified on the patient",
    ] {
        assert!(table.out.contains(word), "{word:?} not in: {}", table.out);
    }
    for (_, with) in &mut found {
        *with = with.replace("lateral_angle_deg: None", "lateral_angle_deg: 15.0");
    }
    let mark = dealt.marked(&pairs(&found));
    let steep = mark["disclusion"]
        .as_array()
        .unwrap()
        .iter()
        .find(|one| one["excursion"] == "protrusive" && one["tooth"] == 37);
    assert!(number(steep.unwrap(), "error_mm") > 0.3, "a guide far too steep opens the molars: {mark}");
}

#[test]
fn h_left_open_with_a_short_record_rejected_is_full_marks_and_h_taken_from_it_is_not() {
    let dealt = Dealt::new(&["--seed", "5", "--level", "second", "--fault", "short-protrusion"]);
    let mut found = dealt.found();
    assert_eq!(number(&dealt.marked(&pairs(&found)), "points"), 100.0);
    let programmed = json(&["program", &dealt.path("patient.ron"), "--format", "json"]);
    for (_, with) in &mut found {
        for side in ["right", "left"] {
            if with.starts_with(&format!("{side}: (")) {
                let h = number(&programmed["settings"][side]["horizontal_inclination_deg"], "value").round();
                let open = "horizontal_inclination_deg: None";
                *with = with.replace(open, &format!("horizontal_inclination_deg: {h:?}"));
            }
        }
    }
    let mark = dealt.marked(&pairs(&found));
    assert_eq!((number(&mark, "points"), &mark["settings"][0]["outcome"]), (70.0, &"from_faulty".into()));
}

#[test]
fn a_deal_at_the_bench_is_worked_out_from_what_is_read_in_its_files() {
    let dealt = Dealt::new(&["--seed", "6", "--form", "bench", "--fault", "unlocked-guide"]);
    let text = dealt.text("patient.ron");
    assert!(
        text.contains("by hand") && text.contains("GrooveGaps(") && text.contains("ScaleReadings("),
        "{text}"
    );
    assert!(!text.contains("lower_landmarks"), "{text}");
    let observed = dealt.text("observed.txt");
    for word in
        ["stands without a step on", "from the apex on the tracing", "is flush", "left guide reads H 30°"]
    {
        assert!(observed.contains(word), "{word:?} not in: {observed}");
    }
    let program = run(&["program", &dealt.path("patient.ron")]);
    assert_eq!(program.status, 0, "{}{}", program.out, program.err);
    let refused_for = run(&[
        "practice",
        "deal",
        &dealt.folder.shell("no"),
        "--key",
        &dealt.folder.shell("no.ron"),
        "--fault",
        "unlocked-guide",
    ]);
    refused(&refused_for, &["UnlockedGuide", "bench"]);
}

#[test]
fn settings_from_a_wrong_centric_record_are_worth_nothing() {
    let dealt = Dealt::new(&["--seed", "3", "--fault", "wrong-centric"]);
    let program = run(&["program", &dealt.path("patient.ron")]);
    assert_eq!(program.status, 1, "{}", program.out);
    let mut found = dealt.found();
    for side in ["right", "left"] {
        found.push((
            format!("{side}: (horizontal_inclination_deg: None, lateral_angle_deg: None)"),
            format!("{side}: (horizontal_inclination_deg: 30.0, lateral_angle_deg: 15.0)"),
        ));
    }
    let mark = dealt.marked(&pairs(&found));
    assert_eq!(number(&mark, "points"), 40.0);
    assert_eq!(mark["settings"][0]["outcome"], "from_faulty");
}

#[test]
fn an_empty_form_scores_nothing_and_is_no_failure() {
    let dealt = Dealt::new(&["--seed", "1"]);
    assert_eq!(number(&dealt.marked(&[]), "points"), 0.0);
}

#[test]
fn the_same_seed_deals_the_same_and_none_deals_anew() {
    let same = || Dealt::new(&["--seed", "77", "--level", "third", "--draw-faults"]);
    let (one, other) = (same(), same());
    for name in ["patient.ron", "tracing.csv", "observed.txt", "instrument.ron", "answer.ron"] {
        assert_eq!(one.text(name), other.text(name));
    }
    let anew = || Dealt::new(&["--draw-faults"]);
    assert_ne!(anew().text("patient.ron"), anew().text("patient.ron"));
}

#[test]
fn the_files_that_are_handed_out_do_not_tell_the_truth() {
    let dealt = Dealt::new(&["--seed", "9182736455463728190", "--fault", "swapped-sides"]);
    let key = std::fs::read_to_string(&dealt.key).unwrap();
    assert!(key.contains("9182736455463728190") && key.contains("do not hand it out"), "{key}");
    for name in ["patient.ron", "tracing.csv", "observed.txt", "instrument.ron", "answer.ron"] {
        let text = dealt.text(name);
        assert!(text.contains("nvented"), "{text}");
        assert!(!text.contains("9182736455463728190") && !text.contains("Swapped"), "{text}");
        for line in key.lines().filter(|line| line.contains("guide: H")) {
            let angle = line.split(" H ").nth(1).unwrap().split(' ').next().unwrap();
            assert!(!text.contains(angle), "{angle} is in {name}");
        }
    }
}

#[test]
fn a_deal_writes_over_nothing_and_keeps_its_key_apart() {
    let dealt = Dealt::new(&["--seed", "1"]);
    let (out, key) = (dealt.folder.shell("out"), dealt.folder.shell("other.ron"));
    refused(&run(&["practice", "deal", &out, "--key", &key]), &["patient.ron", "already exists"]);
    let fresh = dealt.folder.shell("fresh");
    refused(&run(&["practice", "deal", &fresh, "--key", &dealt.key]), &["key.ron", "already exists"]);
    let inside = dealt.folder.shell("fresh/key.ron");
    refused(&run(&["practice", "deal", &fresh, "--key", &inside]), &["handed out", "elsewhere"]);
    assert!(!dealt.folder.path("fresh/patient.ron").exists());
    refused(&run(&["practice", "deal", &fresh]), &["--key"]);
    refused(
        &run(&["practice", "deal", &fresh, "--key", &key, "--level", "fourth"]),
        &["fourth", "first, second, third"],
    );
    refused(
        &run(&["practice", "deal", &fresh, "--key", &key, "--fault", "caries"]),
        &["caries", "wrong-centric"],
    );
    refused(&run(&["practice", "deal", &fresh, "--key", &key, "--seed", "1.5"]), &["seed"]);
    let both = ["--draw-faults", "--fault", "swapped-sides"];
    refused(&run(&[&["practice", "deal", &fresh, "--key", &key], &both[..]].concat()), &["--draw-faults"]);
}

#[test]
fn answers_and_keys_that_are_none_are_refused_at_their_place() {
    let dealt = Dealt::new(&["--seed", "1"]);
    let mark = |answer: &str| run(&["practice", "mark", answer, "--key", &dealt.key]);
    let good = dealt.path("answer.ron");
    refused(&run(&["practice", "mark", &good]), &["--key"]);
    refused(
        &run(&["practice", "mark", &good, "--key", "no/key.ron"]),
        &["no/key.ron", "no such file", "practice deal"],
    );
    refused(&mark("no/answer.ron"), &["no/answer.ron", "no such file", "empty answer"]);
    let first = "right: (horizontal_inclination_deg: None";
    let set = |given: &str| dealt.answer(&[(first, &first.replace("None", given))]);
    refused(
        &mark(&set("NaN")),
        &["filled.ron:8:", "right.horizontal_inclination_deg is NaN", "not a finite number"],
    );
    refused(&mark(&set("120.0")), &["120", "-30 to 85 degrees"]);
    refused(&mark(&set("thirty")), &["filled.ron:8:"]);
    let unknown = dealt.answer(&[("verdicts: (", "verdicts: (wings: Accepted, ")]);
    refused(&mark(&unknown), &["wings", "centric_record"]);
    refused(&mark(&dealt.answer(&[("pin: Open,", "")])), &["pin"]);
    refused(&mark(&dealt.answer(&[("pin: Open", "pin: Fine")])), &["Fine", "Accepted"]);
    let form = dealt.text("answer.ron");
    for end in [0, form.len() / 2, form.len() - 4] {
        refused(&mark(&dealt.folder.file("cut.ron", &form[..end])), &["cut.ron:"]);
    }
    refused(&mark(&dealt.folder.file("junk.ron", b"\xff\xfe")), &["junk.ron", "not UTF-8"]);
    let other = Dealt::new(&["--seed", "2"]);
    refused(&mark(&other.path("answer.ron")), &["the answer is to deal", "the key is of deal"]);
    let key = std::fs::read_to_string(&dealt.key).unwrap();
    let changed = dealt.folder.file("changed.ron", key.replace("seed: 1,", "seed: 2,"));
    refused(&run(&["practice", "mark", &good, "--key", &changed]), &["another version", "changed"]);
    let wrong = dealt.folder.file("wrong.ron", key.replace("seed: 1,", "seed: -1,"));
    refused(&run(&["practice", "mark", &good, "--key", &wrong]), &["wrong.ron:", "seed"]);
    // The answer and the key the wrong way round.
    refused(&run(&["practice", "mark", &dealt.key, "--key", &good]), &["key.ron:"]);
    refused(
        &run(&["practice", "mark", &good, "--key", &dealt.key, "--out", &good]),
        &["answer", "choose another"],
    );
}
