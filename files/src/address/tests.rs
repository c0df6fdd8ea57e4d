use proptest::prelude::*;
use sim_core::scene::Scene;

use super::*;
use crate::built_in::{LESSONS, SCENES};
use crate::link::{LinkError, Shown};

fn sent() -> Sent {
    let shown = Some(Shown { excursion: "right_lateral".to_owned(), driven: Some(2.5) });
    Sent { shown, viewpoint: Some("front".to_owned()), ..Sent::from(Scene::thirty_degree()) }
}

#[test]
fn every_scene_and_lesson_that_comes_with_the_program_has_an_address() {
    for scene in SCENES {
        let read = Address::read(&format!("#scene={}", scene.name));
        assert_eq!(read, Address { opens: Some(Opens::Scene(*scene)), ..Address::default() });
    }
    for lesson in LESSONS {
        let read = Address::read(&format!("http://localhost:8000/#lesson={}", lesson.name));
        assert_eq!(read, Address { opens: Some(Opens::Lesson(*lesson)), ..Address::default() });
    }
}

#[test]
fn a_set_up_behind_the_hash_is_opened_however_mail_broke_it() {
    let whole = reference(&sent(), true).unwrap();
    let broken = whole.replace("set-up=1", "set%2Dup=%31").replacen("eN", "e%20%0A\r\n N", 1);
    for address in [whole.clone(), format!("https://course.example/a?b=c{whole}"), broken] {
        let read = Address::read(&address);
        assert_eq!(read.opens, Some(Opens::SetUp(Box::new(sent()))), "{address}");
    }
    for address in [
        whole.clone(),
        whole.replacen('?', "?week=3&utm_source=mail&", 1),
        whole.replacen("?only=picture", "", 1) + "&only=picture",
    ] {
        let read = Address::read(&address);
        assert!(read.only_picture && read.notes.is_empty(), "{:?}", read.notes);
    }
}

#[test]
fn nothing_said_opens_nothing_and_notes_nothing() {
    for address in
        ["", "#", "?", "?#", "https://course.example/", "https://course.example/?&#&", "scene=steep_guides"]
    {
        assert_eq!(Address::read(address), Address::default(), "{address}");
    }
}

/// The one note of an address, with what it opens all the same.
fn note(address: &str) -> (String, Option<Opens>) {
    let read = Address::read(address);
    assert_eq!(read.notes.len(), 1, "{:?}", read.notes);
    (read.notes[0].to_string(), read.opens)
}

#[test]
fn what_cannot_be_used_is_said_with_what_can() {
    let thirty = Some(Opens::Scene(scene_named("thirty_degree").unwrap()));
    for (address, said, opens) in [
        ("#scene=thirty", "No scene “thirty” comes with the program. There are thirty_degree, ", None),
        ("#lesson=first", "There are zeroing, inclination, ", None),
        (
            "#scen=steep_guides",
            "says “scen”, which is not known; known are #scene=NAME, #lesson=NAME, ",
            None,
        ),
        ("?only=table#scene=thirty_degree", "only “table”; known is only=picture", thirty.clone()),
        ("#scene=thirty_degree&lesson=nope", "No lesson “nope”", thirty.clone()),
        ("#scene=thirty_degree&scene=steep_guides", "more than one thing to open", thirty.clone()),
        ("?set-up=1abc#scene=thirty_degree", "It must stand behind #", thirty.clone()),
        (
            "#a=1&b=2&c&d=3&e=&scene=thirty_degree",
            "says “a”, “b”, “c”, 2 more, which is not known",
            thirty.clone(),
        ),
        ("#set-up=1eNabc&scene=thirty_degree", "cannot be opened: the link was cut off or changed", thirty),
    ] {
        let (note, opened) = note(address);
        assert!(note.contains(said), "{address}: {note}");
        assert_eq!(opened, opens, "{address}");
    }
}

#[test]
fn a_set_up_goes_before_a_lesson_and_a_lesson_before_a_scene() {
    let link = sent().to_link().unwrap();
    let (_, opened) = note(&format!("#scene=thirty_degree&lesson=zeroing&set-up={link}"));
    assert_eq!(opened, Some(Opens::SetUp(Box::new(sent()))));
    let (_, opened) = note("#scene=thirty_degree&lesson=zeroing");
    assert_eq!(opened, Some(Opens::Lesson(lesson_named("zeroing").unwrap())));
}

#[test]
fn a_note_quotes_little_and_steers_nothing() {
    let long = "x".repeat(100_000);
    for address in
        [format!("#{long}=1"), format!("#scene={long}"), format!("#lesson={long}"), format!("#only={long}")]
    {
        let (note, _) = note(&address);
        assert!(note.contains(&format!("{}… (100,000 characters)”", "x".repeat(80))), "{note}");
    }
    let (steering, _) = note("#scene=%1B%5B31m%E2%80%AE");
    assert!(steering.contains("“\\u{1b}[31m\\u{202e}”"), "{steering}");
}

#[test]
fn of_very_many_parts_a_few_are_looked_at() {
    let read = Address::read(&format!("#{}", "scene=nope&".repeat(100_000)));
    assert_eq!(read.notes.len(), MOST_PARTS + 1);
    assert_eq!(read.notes.last(), Some(&AddressNote::TooMany { most: MOST_PARTS }));
}

#[test]
fn only_addresses_of_the_web_carry_a_set_up() {
    for (given, said) in [
        ("javascript:alert(1)", "begins with https:// or http://"),
        ("javascript://course.example/%0aalert(1)", "begins with https:// or http://"),
        ("data:text/html,hello", "begins with"),
        ("file:///home/a/index.html", "begins with"),
        ("course.example", "begins with"),
        ("https://", "begins with"),
        ("https:///page", "begins with"),
        ("https://course.example/a b", "has “ ” in it"),
        ("https://course.example/\"onload=\"x", "has “\"” in it"),
        ("https://course.example/<x>", "has “<” in it"),
        ("https://course.example/\u{202e}", "has “\\u{202e}” in it"),
        (" https://course.example/", "begins with"),
        ("https://course.example/#scene=a", "has a # already"),
    ] {
        let refused = given.parse::<PageAddress>().expect_err(given).to_string();
        assert!(refused.contains(said), "{given}: {refused}");
    }
}

#[test]
fn a_pages_own_query_is_kept() {
    for (page, only_picture, begins) in [
        ("https://course.example", false, "https://course.example#set-up=1"),
        ("http://localhost:8000/", true, "http://localhost:8000/?only=picture#set-up=1"),
        (
            "HTTPS://kurs.example/\u{fc}bung/?week=3",
            true,
            "HTTPS://kurs.example/\u{fc}bung/?week=3&only=picture#set-up=1",
        ),
        ("https://a.example/?only=picture", true, "https://a.example/?only=picture#set-up=1"),
        ("https://a.example/?only=picture", false, "https://a.example/#set-up=1"),
    ] {
        let page: PageAddress = page.parse().unwrap();
        let address = page.carrying(&sent(), only_picture).unwrap();
        assert!(address.starts_with(begins), "{address}");
        let read = Address::read(&address);
        assert_eq!((read.opens, read.only_picture), (Some(Opens::SetUp(Box::new(sent()))), only_picture));
    }
}

#[test]
fn what_no_link_carries_no_address_carries() {
    let far = Shown { excursion: "opening".to_owned(), driven: None };
    let sent = Sent { shown: Some(far), ..sent() };
    let page: PageAddress = "https://a.example/".parse().unwrap();
    assert!(matches!(page.carrying(&sent, false), Err(LinkError::NoSuchExcursion { .. })));
}

proptest! {
    #[test]
    fn no_address_stops_it(before in any::<String>(), key in "(scene|lesson|set-up|only|.{0,9})", value in any::<String>()) {
        for mark in ["?", "#", "&", "#&&=="] {
            let read = Address::read(&format!("{before}{mark}{key}={value}"));
            for note in read.notes {
                let note = note.to_string();
                prop_assert!(note.chars().count() < 800 && !note.chars().any(char::is_control), "{}", note);
            }
        }
    }

    /// The standard's percent-encoding, of every byte, says the same.
    #[test]
    fn an_address_says_the_same_in_percents(name in 0..SCENES.len()) {
        let scene = SCENES[name];
        let encoded: String = scene.name.bytes().map(|byte| format!("%{byte:02x}")).collect();
        let read = Address::read(&format!("#scene={encoded}"));
        prop_assert_eq!(read.opens, Some(Opens::Scene(scene)));
    }
}
