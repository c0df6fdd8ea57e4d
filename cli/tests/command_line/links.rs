//! `link`: a set-up goes out by one call and comes in by another. What a link may hold is checked in `files`; here,
//! that the command puts into it what it was asked for, and prints nothing else.

use files::address::{Address, Opens};
use files::link::Sent;
use sim_core::scene::{Scene, THIRTY_DEGREE};

use crate::helpers::{COARSE_CASTS, Folder, Parts, eminentia, left, refused, run};

/// What the one line that a call prints opens.
fn sent(args: &[&str]) -> (String, Sent) {
    let made = run(&[&["link"], args].concat());
    assert_eq!(made.status, 0, "{}", made.err);
    let line = made.out.strip_suffix('\n').unwrap();
    assert!(!line.contains(char::is_whitespace), "{line}");
    let read = Address::read(line);
    assert!(read.notes.is_empty(), "{:?}", read.notes);
    assert_eq!(read.only_picture, args.contains(&"--only-picture"));
    let Some(Opens::SetUp(sent)) = read.opens else { panic!("{line} opens no set-up") };
    (line.to_owned(), *sent)
}

#[test]
fn a_scene_goes_out_and_comes_in() {
    let folder = Folder::new();
    let parts = Parts { title: "For the class: <b>\u{e9}", casts: COARSE_CASTS, ..Parts::default() };
    let path = folder.scene(&parts);
    let (line, sent) = sent(&[&path]);
    assert_eq!(sent, Sent::from(Scene::from_ron(&parts.text()).unwrap()));
    assert!(line.starts_with("#set-up=1"), "{line}");
    let read = run(&["link", "--read", &line]);
    assert_eq!((read.status, read.err.as_str()), (0, ""));
    assert_eq!(Scene::from_ron(&read.out).unwrap(), sent.scene);
    // From standard input, as mail broke it.
    let broken = format!("see https://course.example/{}\n{}\n", &line[..40], &line[40..]);
    let piped = left(eminentia().args(["link", "--read", "-"]).write_stdin(broken));
    assert_eq!(piped.out, read.out);
}

#[test]
fn without_a_scene_the_compiled_in_one_travels_and_the_hint_is_no_part_of_the_line() {
    let (_, sent) = sent(&[]);
    assert_eq!(sent.scene, Scene::from_ron(THIRTY_DEGREE).unwrap());
    assert!(run(&["link"]).err.contains("compiled in"));
}

#[test]
fn a_page_an_excursion_a_change_and_a_second_set_up_go_along() {
    let folder = Folder::new();
    let path = folder.scene(&Parts::default());
    let beside = folder.file("b.ron", Parts { title: "Beside", ..Parts::default() }.text());
    let (line, sent) = sent(&[
        &path,
        "--page",
        "https://course.example/page/?week=3",
        "--with",
        "left_guide.horizontal_inclination_deg=35.5",
        "--excursion",
        "right_lateral",
        "--at",
        "2.5",
        "--beside",
        &beside,
        "--only-picture",
    ]);
    assert!(line.starts_with("https://course.example/page/?week=3&only=picture#set-up=1"), "{line}");
    assert!((sent.scene.instrument.left_guide.horizontal_inclination.degrees() - 35.5).abs() < 1e-12);
    let shown = sent.shown.unwrap();
    assert_eq!((shown.excursion.as_str(), shown.driven), ("right_lateral", Some(2.5)));
    assert_eq!(sent.beside.unwrap().title, "Beside");
    let read = run(&["link", "--read", &line]);
    for said in
        ["The link shows the excursion right lateral, at 2.50 mm.", "It carries a second set-up, B: Beside"]
    {
        assert!(
            read.err.contains(said) && read.out.contains(&format!("// {said}\n")),
            "{said}: {}",
            read.out
        );
    }
    let second = run(&["link", "--read", &line, "--second"]);
    assert_eq!(Scene::from_ron(&second.out).unwrap().title, "Beside");
}

#[test]
fn a_place_without_a_name_is_in_the_scenes_first_excursion() {
    let folder = Folder::new();
    let path = folder.scene(&Parts { excursions: "Opening(angle_deg: 12.0)", ..Parts::default() });
    let (line, sent) = sent(&[&path, "--at", "7"]);
    let shown = sent.shown.unwrap();
    assert_eq!((shown.excursion.as_str(), shown.driven), ("opening", Some(7.0)));
    assert!(run(&["link", "--read", &line]).err.contains("opening, at 7.00°"));
}

#[test]
fn what_cannot_travel_is_refused_with_the_option_that_it_stands_in() {
    let folder = Folder::new();
    let path = folder.scene(&Parts::default());
    let scans = Parts { casts: "casts: (upper: \"u.stl\", lower: \"l.stl\"),", ..Parts::default() };
    let scans = folder.file("scans.ron", scans.text());
    let link = |args: &[&str]| run(&[&["link"], args].concat());
    refused(&link(&[&scans]), &["scans.ron: ", "“u.stl”", "invented_casts"]);
    refused(&link(&[&path, "--beside", &scans]), &["--beside ", "scans.ron: the second set-up, B, names"]);
    refused(
        &link(&[&path, "--excursion", "opening"]),
        &["--excursion “opening”", "protrusive, right_lateral"],
    );
    refused(&link(&[&path, "--at", "-1"]), &["--at: protrusive at -1", "0 to 30 mm"]);
    refused(&link(&[&path, "--page", "javascript:alert(1)"]), &["--page", "https://"]);
    refused(&link(&[&path, "--page", "https://a.example/#b"]), &["--page", "#"]);
    refused(&link(&[&path, "--with", "horizontal_inclination_deg=300"]), &["--with", "85"]);
    refused(&link(&["no_such.ron"]), &["no_such.ron: no such file"]);
    refused(&link(&["--second"]), &["--read"]);
    refused(&link(&[&path, "--second"]), &["cannot be used with", "--second"]);
}

#[test]
fn an_address_without_a_sound_set_up_is_refused_with_why() {
    let (line, _) = sent(&[]);
    let read = |address: &str| run(&["link", "--read", address]);
    refused(&read("https://course.example/"), &["carries no set-up"]);
    refused(&read(&line[..60]), &["was cut off or changed", "copy it again"]);
    refused(&read(&line.replacen('#', "?", 1)), &["stands behind ?"]);
    refused(&read("#scene=steep_guides"), &["names the scene steep_guides"]);
    refused(&read("#lesson=zeroing"), &["names the lesson zeroing"]);
    refused(&run(&["link", "--read", &line, "--second"]), &["no second set-up"]);
    refused(&run(&["link", "--read", &line, "--page", "https://a.example/"]), &["cannot be used with"]);
    refused(
        &left(eminentia().args(["link", "--read", "-"]).write_stdin(vec![0xff; 10])),
        &["standard input"],
    );
    refused(
        &left(eminentia().args(["link", "--read", "-"]).write_stdin("#".repeat(200_000))),
        &["100000 bytes"],
    );
    // What else an address says is warned of, and stops nothing.
    let other = read(&format!("{line}&colour=red"));
    assert!(other.status == 0 && other.err.contains("says “colour”"), "{}", other.err);
}
