//! What to keep in mind goes out with everything that a person keeps: every object, every row file, every picture,
//! every scene. The commands are those that the program itself lists, so that a new one cannot forget it.

use std::fs;

use serde_json::Value;

use crate::helpers::{COARSE_CASTS, Folder, Parts, case_path, case_text, eminentia, left, run};

/// Names of the commands that a help lists, `help` itself left out.
fn listed(args: &[&str]) -> Vec<String> {
    let help = run(&[args, &["-h"]].concat()).out;
    let list =
        help.lines().skip_while(|line| *line != "Commands:").skip(1).take_while(|line| !line.is_empty());
    let names = list.filter(|line| line.starts_with("  ") && !line.starts_with("   "));
    let names = names.filter_map(|line| line.split_whitespace().next());
    names.filter(|name| *name != "help").map(str::to_owned).collect()
}

/// Every command, with that which stands above it.
fn commands() -> Vec<Vec<String>> {
    listed(&[])
        .into_iter()
        .flat_map(|name| match listed(&[&name]) {
            under if under.is_empty() => vec![vec![name]],
            under => under.into_iter().map(|own| vec![name.clone(), own]).collect(),
        })
        .collect()
}

fn scene(name: &str) -> String {
    format!("{}/../scenes/{name}", env!("CARGO_MANIFEST_DIR"))
}

/// What a command needs to make its report; those that have forms and are not named here fail the test.
fn given(command: &[&str], folder: &Folder) -> Vec<String> {
    let args: Vec<String> = match command {
        ["settings"] => vec![],
        ["excursion" | "baseline" | "plan" | "why"] => vec![scene("thirty_degree.ron")],
        ["compare"] => vec![scene("thirty_degree.ron"), scene("opened_arcon.ron")],
        ["program"] => vec![case_path("dentate.ron")],
        ["bench"] => vec![case_path("bench.ron")],
        ["tracing", "setup"] => vec![scene("thirty_degree.ron")],
        ["doubt"] => vec![case_path("dentate.ron"), "--draws".into(), "20".into()],
        ["tracing"] => vec![scene("tracings/sharp.csv")],
        ["contacts"] => vec![coarse_casts(folder), "--to".into(), "1".into()],
        ["custom-table"] => {
            vec![coarse_casts(folder), "--to".into(), "1".into(), "--step".into(), "1".into()]
        }
        ["casts"] => {
            let (upper, lower) = (folder.shell("u.stl"), folder.shell("l.stl"));
            vec![coarse_casts(folder), "--upper".into(), upper, "--lower".into(), lower]
        }
        ["practice", "mark"] => {
            let out = folder.shell("deal");
            let key = folder.shell("key.ron");
            let dealt = run(&["practice", "deal", &out, "--key", &key, "--seed", "3"]);
            assert!(dealt.status == 0 || dealt.err.contains("already"), "{}", dealt.err);
            vec![folder.shell("deal/answer.ron"), "--key".into(), key]
        }
        ["lesson", "check"] => vec![scene("../lessons/zeroing.ron")],
        ["lesson", "list"] => vec![],
        ["viva"] => vec!["--seed".into(), "3".into()],
        ["remount"] => vec![scene("remounts/processed_denture.ron")],
        ["study", "published"] => vec![],
        ["study", "plan"] => vec![study(folder)],
        ["study", "summary"] => {
            let table = folder.shell("table.parquet");
            assert_eq!(run(&["study", "run", &study(folder), "--out", &table]).status, 0);
            vec![table]
        }
        other => panic!("{other:?} has forms, and no example here"),
    };
    args
}

fn coarse_casts(folder: &Folder) -> String {
    folder.scene(&Parts { casts: COARSE_CASTS, ..Parts::default() })
}

fn study(folder: &Folder) -> String {
    folder.scene(&Parts::default());
    folder.file("study.ron", STUDY)
}

const STUDY: &str = "(title: \"Written by a test\", scene: \"scene.ron\", plan: FullGrid, \
    factors: [(setting: \"horizontal_inclination_deg\", values: List([20.0, 30.0, 40.0]))], \
    record: (measures: [Clearance], advances_mm: [3.0]))";

#[test]
fn every_form_of_every_command_carries_the_caution() {
    let mut seen = 0;
    for command in commands() {
        let command: Vec<&str> = command.iter().map(String::as_str).collect();
        let help = run(&[&command[..], &["--help"]].concat()).out;
        if !help.contains("--format <FORMAT>") {
            continue;
        }
        let folder = Folder::new();
        let given = given(&command, &folder);
        for (form, begins) in
            [("csv", format!("# {}\n", words::CAUTION)), ("json", "{\"caution\":".to_owned())]
        {
            if !help.contains(&format!("- {form}:")) {
                continue;
            }
            let args = given.iter().map(String::as_str);
            let args: Vec<&str> = command.iter().copied().chain(args).chain(["--format", form]).collect();
            let made = run(&args);
            assert_eq!(made.status, 0, "{args:?}: {}", made.err);
            assert!(made.out.starts_with(&begins), "{args:?}: {}", made.out);
            if form == "json" {
                let object: Value = serde_json::from_str(&made.out).unwrap();
                assert_eq!(object["caution"], words::CAUTION);
            }
            seen += 1;
        }
    }
    assert!(seen > 20, "{seen}");
}

/// What a comment head of a file says, on one line.
fn head(path: &str) -> String {
    let text = fs::read_to_string(path).unwrap();
    text.lines().map_while(|line| line.strip_prefix("// ")).collect::<Vec<_>>().join(" ")
}

#[test]
fn a_scene_written_from_a_patients_case_says_which_and_when() {
    let folder = Folder::new();
    let case = folder.file("case.ron", case_text("dentate.ron"));
    let out = folder.shell("scene.ron");
    // Noon of 29 February 2024, by `date -u -d 2024-02-29T12:00 +%s`.
    let run = left(
        eminentia().args(["program", &case, "--scene-out", &out]).env("SOURCE_DATE_EPOCH", "1709208000"),
    );
    assert_eq!(run.status, 0, "{}", run.err);
    let head = head(&out);
    let hash = files::sha256([case_text("dentate.ron").as_bytes()]);
    for told in [words::CAUTION, "from the case: Dentate case (invented)", &hash, "2024-02-29", "as computed"]
    {
        assert!(head.contains(told), "{told}: {head}");
    }
}

#[test]
fn scenes_that_other_commands_write_carry_it_too() {
    let folder = Folder::new();
    let out = folder.shell("out.ron");
    let (upper, lower) = (folder.shell("u.stl"), folder.shell("l.stl"));
    let casts = coarse_casts(&folder);
    for args in [
        vec!["plan", &scene("planned_disclusion.ron")],
        vec!["custom-table", &casts, "--to", "1", "--step", "1"],
        vec!["casts", &casts, "--upper", &upper, "--lower", &lower],
    ] {
        let written = run(&[&args[..], &["--scene-out", &out]].concat());
        assert_eq!(written.status, 0, "{}", written.err);
        let head = head(&out);
        assert!(head.starts_with(words::CAUTION) && head.contains("from the scene: "), "{head}");
        fs::remove_file(&out).unwrap();
    }
}

#[test]
fn a_scene_read_from_a_link_says_so() {
    let link = run(&["link", &scene("thirty_degree.ron")]).out;
    let folder = Folder::new();
    let path = folder.file("read.ron", run(&["link", "--read", &link]).out);
    let head = head(&path);
    assert!(head.starts_with(words::CAUTION) && head.contains("from the link: Thirty-degree"), "{head}");
}

#[test]
fn pictures_that_stand_alone_carry_it() {
    let folder = Folder::new();
    let plot = folder.shell("plot.svg");
    let (thirty, opened) = (scene("thirty_degree.ron"), scene("opened_arcon.ron"));
    for args in [
        &["plan", &thirty][..],
        &["tracing", &scene("tracings/sharp.csv")],
        &["excursion", &thirty],
        &["compare", &thirty, &opened],
    ] {
        assert_eq!(run(&[args, &["--plot", &plot]].concat()).status, 0);
        let svg = fs::read_to_string(&plot).unwrap();
        // Over as many lines as the picture's width asks for.
        let words = svg.replace("</text>", " ");
        let words: String =
            words.split('<').map(|part| part.split_once('>').map_or(part, |(_, text)| text)).collect();
        let words = words.split_whitespace().collect::<Vec<_>>().join(" ");
        assert_eq!(words.matches(words::CAUTION).count(), 1, "{args:?}: {words}");
    }
}
