//! Whatever a title, a name or an option holds, nothing of it steers the terminal, turns a line round or is worked out by
//! a spreadsheet.

use crate::helpers::{COARSE_CASTS, Folder, Left, Parts, case_text, eminentia, left};

/// A title as a scene file writes it: sequences of a terminal, its sign of one byte, a turn of the direction of writing,
/// an end of a line, markup, and a colour that no table of ours has.
const TITLE: &str = "\\u{1b}]0;pwned\\u{7}\\u{1b}[2J\\u{9b}2J\\u{1b}[35m\\u{202e}gnp\\u{2066}\\u{7f}\\n\\r=cmd()<script>alert(1)</script>";
/// A name, likewise.
const NAME: &str = "=cmd\\u{1b}[35m\\n\\u{202e}<b>";
/// The same as an option has it.
const OPTION: &str =
    "\u{1b}]0;pwned\u{7}\u{1b}[2J\u{9b}2J\u{1b}[35m\u{202e}gnp\u{2066}\u{7f}\r\nerror: forged";

fn scene_text() -> String {
    Parts { title: TITLE, ..Parts::default() }.text().replace("\"mesiopalatal\"", &format!("\"{NAME}\""))
}

/// The title of a text, replaced.
fn with_title(text: &str) -> String {
    let at = text.find("title: \"").unwrap() + "title: \"".len();
    let end = at + text[at..].find('"').unwrap();
    format!("{}{TITLE}{}", &text[..at], &text[end..])
}

/// What a person sees holds nothing that does something else than to stand there.
fn seen(text: &str, what: &str) {
    // What sets a style is ours, and the colour of the title is none of ours.
    let styles = text.replace("\u{1b}[", "");
    let odd = styles.chars().find(|letter| words::quoted::steers(*letter) && !matches!(letter, '\n' | '\t'));
    assert_eq!(odd, None, "{what}: {text:?}");
    assert!(!text.contains("\u{1b}[35m"), "{what}: {text:?}");
    assert!(text.lines().all(|line| !line.starts_with("error: forged")), "{what}: {text:?}");
}

/// Runs it as if a terminal showed colours.
fn shown(args: &[&str]) -> Left {
    let left = left(eminentia().env("CLICOLOR_FORCE", "1").args(args));
    seen(&left.out, &format!("{args:?}"));
    seen(&left.err, &format!("{args:?}"));
    assert!(!left.err.contains("panicked"), "{args:?}: {}", left.err);
    left
}

#[test]
fn no_title_or_name_steers_the_terminal() {
    let folder = Folder::new();
    let scene = folder.file("scene.ron", scene_text());
    let casts = folder.file("casts.ron", scene_text().replace("\n)\n", &format!("\n{COARSE_CASTS}\n)\n")));
    let case = folder.file("case.ron", with_title(&case_text("dentate.ron")));
    let bench = folder.file("bench.ron", with_title(&case_text("bench.ron")));
    let at = |name: &str| format!("{}/../{name}", env!("CARGO_MANIFEST_DIR"));
    let read = |name: &str| std::fs::read_to_string(at(name)).unwrap();
    let remount = folder.file("remount.ron", with_title(&read("scenes/remounts/processed_denture.ron")));
    let lesson = folder.file("lesson.ron", with_title(&read("lessons/pin_and_design.ron")));
    let study = read("scenes/studies/one_at_a_time.ron").replace("../thirty_degree.ron", "scene.ron");
    let (start, end) = (study.find("cusps:").unwrap(), study.rfind("]").unwrap());
    let study =
        format!("{}cusps: Some([\"36.mesiobuccal\", \"16.{NAME}\"]){}", &study[..start], &study[end + 2..]);
    let study = folder.file("study.ron", with_title(&study));
    let tracing = folder.file("tracing.csv", read("scenes/tracings/sharp.csv"));
    let table = folder.shell("table.csv");
    let ran = shown(&["study", "run", &study, "--out", &table]);
    assert_eq!(ran.status, 0, "{}", ran.err);
    seen(&std::fs::read_to_string(&table).unwrap(), "table of a study");
    let mut asked: Vec<Vec<&str>> = Vec::new();
    for format in ["table", "csv", "json"] {
        let form = ["--format", format];
        for command in ["excursion", "plan", "baseline", "compare", "why"] {
            asked.push([&[command, &scene][..], &form].concat());
        }
        for command in [
            &["contacts", &casts][..],
            &["program", &case],
            &["bench", &bench],
            &["doubt", &case, "--draws", "100"],
            &["remount", &remount],
            &["lesson", "check", &lesson],
            &["study", "plan", &study],
            &["study", "summary", &table],
            &["tracing", &tracing, "--over", &scene],
            &["tracing", "setup", &scene],
        ] {
            asked.push([command, &form].concat());
        }
    }
    asked.push(vec!["link", &scene, "--page", "https://course.example/"]);
    asked.push(vec!["compare", &scene, &casts]);
    let mut done = 0;
    for args in asked {
        done += usize::from(shown(&args).status == 0);
    }
    assert!(done > 25, "most of them have an answer: {done}");
}

#[test]
fn what_is_written_from_a_hostile_scene_is_text_and_no_markup() {
    let folder = Folder::new();
    let scene = folder.file("scene.ron", scene_text());
    for (name, args) in [
        ("sheet.html", vec!["sheet", &scene, "--out"]),
        ("curves.svg", vec!["excursion", &scene, "--plot"]),
        ("rows.csv", vec!["excursion", &scene, "--format", "csv", "--out"]),
        ("object.json", vec!["excursion", &scene, "--format", "json", "--out"]),
    ] {
        let path = folder.shell(name);
        let left = shown(&[&args[..], &[path.as_str()]].concat());
        assert_eq!(left.status, 0, "{name}: {}", left.err);
        let text = std::fs::read_to_string(&path).unwrap();
        seen(&text, name);
        let markup = name.ends_with("html") || name.ends_with("svg");
        assert!(!markup || !(text.contains("<script>alert") || text.contains("<b>")), "{name}");
        assert!(!text.contains(",=cmd") && !text.contains(",\"=cmd"), "{name}: {text}");
    }
    let rows = std::fs::read_to_string(folder.path("rows.csv")).unwrap();
    assert!(rows.contains(r"'=cmd\u{1b}[35m\n\u{202e}<b>"), "{rows}");
    let pdf = folder.shell("sheet.pdf");
    assert_eq!(shown(&["sheet", &scene, "--out", &pdf]).status, 0);
    assert!(std::fs::read(&pdf).unwrap().starts_with(b"%PDF"));
}

#[test]
fn json_carries_a_hostile_title_whole() {
    let folder = Folder::new();
    let scene = folder.file("scene.ron", scene_text());
    let object = crate::helpers::json(&["excursion", &scene, "--format", "json"]);
    let title = object["title"].as_str().unwrap();
    assert!(
        title
            .starts_with("\u{1b}]0;pwned\u{7}\u{1b}[2J\u{9b}2J\u{1b}[35m\u{202e}gnp\u{2066}\u{7f}\n\r=cmd()"),
        "{title:?}"
    );
}

#[test]
fn no_option_is_repeated_as_it_came() {
    let folder = Folder::new();
    let scene = folder.scene(&Parts::default());
    let long = "n".repeat(10_240);
    let values =
        [OPTION.to_owned(), format!("{OPTION}=1"), long.clone(), format!("{long}=1"), format!("0={long}")];
    for value in &values {
        let named = format!("{}.ron", value.chars().take(60).collect::<String>());
        for args in [
            vec![value.as_str()],
            vec!["excursion", value],
            vec!["excursion", &named],
            vec!["excursion", &scene, "--with", value],
            vec!["excursion", &scene, "--samples", value],
            vec!["excursion", &scene, "--format", value],
            vec!["excursion", &scene, "--plot", &named],
            vec!["excursion", &scene, value],
            vec!["why", &scene, "--cusp", value],
            vec!["why", &scene, "--excursion", value],
            vec!["plan", &scene, "--clear", value],
            vec!["plan", &scene, "--free", value],
            vec!["bench", "case.ron", "--set-at", value],
            vec!["practice", "deal", value, "--key", value],
            vec!["study", "run", value],
            vec!["study", "run", "study.ron", "--part", value],
            vec!["study", "example", value],
            vec!["tracing", value],
            vec!["tracing", "x.png", "--marks", value, "--apart", value],
            vec!["link", "--read", value],
            vec!["link", &scene, "--page", value],
            vec!["link", &scene, "--view", value],
            vec!["viva", "--number", value],
            vec!["completion", value],
            vec!["sheet", &scene, "--out", value],
        ] {
            let left = left(eminentia().current_dir(folder.path("")).env("CLICOLOR_FORCE", "1").args(&args));
            seen(&left.err, &format!("{args:?}"));
            seen(&left.out, &format!("{args:?}"));
            assert!(
                left.status > 0 && left.err.chars().count() < 5000,
                "{args:?}: {} {}",
                left.status,
                left.err
            );
        }
    }
}

#[test]
fn foreign_words_of_a_file_are_short_and_seen() {
    let folder = Folder::new();
    let tracing =
        std::fs::read_to_string(format!("{}/../scenes/tracings/sharp.csv", env!("CARGO_MANIFEST_DIR")))
            .unwrap();
    let long = "n".repeat(10_240);
    for word in [OPTION, &long] {
        let quoted = word.replace('"', "\"\"");
        for text in [
            tracing.replacen("protrusive,", &format!("\"{quoted}\","), 1),
            format!("{word}\n1\n"),
            format!("leg,forward_mm,\"{quoted}\"\n"),
        ] {
            let left = shown(&["tracing", &folder.file("tracing.csv", text)]);
            assert_eq!(left.status, 2, "{}", left.err);
            assert!(left.err.len() < 2000, "{}", left.err);
        }
        let ron = word.escape_default().to_string();
        for (from, to) in [
            ("design: Arcon", format!("design: {}", "N".repeat(word.len()))),
            ("cusps: [", format!("cusps: [(tooth: 36, name: \"{ron}\", at_mm: (0, 0)),")),
            ("samples: 7", format!("samples: \"{ron}\"")),
            ("excursions: [", format!("casts: (upper: \"{ron}\", lower: \"x.stl\"), excursions: [")),
        ] {
            let scene = folder.file("scene.ron", Parts::default().text().replacen(from, &to, 1));
            let left = shown(&["contacts", &scene]);
            assert_eq!(left.status, 2, "{}", left.err);
            assert!(
                left.err.contains("scene.ron") && left.err.chars().count() < 3000,
                "{from}: {}",
                left.err
            );
        }
    }
}

#[cfg(unix)]
mod names_that_are_not_utf_8 {
    use std::ffi::OsStr;
    use std::os::unix::ffi::OsStrExt as _;

    use super::*;
    use crate::helpers::refused;

    fn odd(ending: &str) -> std::ffi::OsString {
        OsStr::from_bytes(&[b"caf\xe9", ending.as_bytes()].concat()).to_owned()
    }

    #[test]
    fn they_are_shown_by_their_bytes() {
        let folder = Folder::new();
        let command = |args: &[&OsStr]| left(eminentia().current_dir(folder.path("")).args(args));
        let [excursion, with] = ["excursion", "--with"].map(OsStr::new);
        refused(&command(&[excursion, &odd(".ron")]), &[r"caf\xe9.ron", "no such file"]);
        refused(&command(&[excursion, with, &odd("=1")]), &[r"`caf\xe9=1`", "UTF-8"]);
    }

    #[test]
    fn no_scene_is_written_that_names_a_file_it_cannot_name() {
        let folder = Folder::new();
        let args = ["casts", "--upper"].map(OsStr::new);
        let (upper, lower, scene) = (odd(".stl"), OsStr::new("lower.stl"), OsStr::new("out.ron"));
        let rest = [OsStr::new("--lower"), lower, OsStr::new("--scene-out"), scene];
        let left = left(eminentia().current_dir(folder.path("")).args(args).arg(&upper).args(rest));
        refused(&left, &[r"caf\xe9.stl", "another name"]);
        assert_eq!(folder.names(), [""; 0], "nothing is written");
    }
}

#[test]
fn letters_without_a_shape_are_named() {
    let folder = Folder::new();
    let scene =
        folder.scene(&Parts { title: "患者 (invented), Ωμέγα, Проверка", ..Parts::default() });
    for (name, warned) in [("sheet.pdf", true), ("sheet.html", false)] {
        let left = shown(&["sheet", &scene, "--out", &folder.shell(name)]);
        assert_eq!(left.status, 0, "{}", left.err);
        assert_eq!(left.err.contains("has no 患 者;"), warned, "{name}: {}", left.err);
    }
}

#[test]
fn a_mistake_names_the_option_that_it_is_in() {
    let folder = Folder::new();
    let scene = folder.scene(&Parts::default());
    let teeth = folder.file("casts.ron", Parts { casts: COARSE_CASTS, ..Parts::default() }.text());
    let case = folder.file("case.ron", case_text("dentate.ron"));
    let missing = folder.shell("no/such/t.csv");
    let study = format!("{}/../scenes/studies/one_at_a_time.ron", env!("CARGO_MANIFEST_DIR"));
    for (args, told) in [
        (vec!["excursion", &scene, "--with", "anterior_guide=casts"], "--with"),
        (vec!["custom-table", &teeth, "--to", "99"], "--to: the advance is 99; allowed are"),
        (vec!["custom-table", &teeth, "--step", "9"], "--step: "),
        (vec!["custom-table", &teeth, "--margin", "99"], "--margin: "),
        (vec!["doubt", &case, "--record-sd-mm", "inf"], "--record-sd-mm: record sd is inf; allowed are"),
        (vec!["study", "run", &study, "--out", &missing], missing.as_str()),
    ] {
        let left = shown(&args);
        assert_eq!(left.status, 2, "{args:?}: {}", left.err);
        assert!(left.err.contains(told) && !left.err.contains("journal"), "{args:?}: {}", left.err);
    }
}

#[test]
fn a_step_that_is_too_fine_is_refused_before_the_net_is_solved() {
    let folder = Folder::new();
    let parts = Parts { casts: COARSE_CASTS, ..Parts::default() };
    let scene = folder.scene(&parts);
    let left = shown(&["custom-table", &scene, "--step", "0.05", "--to", "10", "--margin", "10"]);
    assert_eq!(left.status, 2, "{}", left.err);
    assert!(
        left.err.contains("--step: with a step of 0.05 mm") && left.err.contains("100000"),
        "{}",
        left.err
    );
}
