//! Any set-up travels by a link and comes back the same; no other text comes back as something that its scene's
//! own reader would refuse.

use files::address::{Address, Opens, PageAddress};
use files::link::{LinkError, MOST_LINK_LETTERS, MOST_UNPACKED_BYTES, Sent, Shown};
use proptest::prelude::*;
use proptest::strategy::ValueTree as _;
use proptest::test_runner::TestRunner;
use sim_core::scene::Scene;
use whole_checks::random;
use whole_checks::written::scene;

/// Any scene without files, with any of its excursions shown, and perhaps another beside it.
fn sent() -> impl Strategy<Value = Sent> {
    let scene = || scene().prop_filter("has no files", |scene| scene.casts.is_none()).boxed();
    let viewpoint = proptest::option::of("[a-z_]{1,20}");
    let driven = proptest::option::of(0.0..=30.0_f64);
    (scene(), proptest::option::weighted(0.3, scene()), any::<prop::sample::Index>(), driven, viewpoint)
        .prop_map(|(scene, beside, which, driven, viewpoint)| {
            let excursion = which.get(&scene.excursions).movement().name().to_owned();
            Sent { shown: Some(Shown { excursion, driven }), scene, beside, viewpoint }
        })
}

/// What was read is sound: what it says goes through the reader of scene files and comes out the same.
fn is_sound(sent: &Sent) -> Result<(), TestCaseError> {
    for scene in [Some(&sent.scene), sent.beside.as_ref()].into_iter().flatten() {
        let again = Scene::from_ron(&scene.to_ron());
        prop_assert_eq!(again.as_ref(), Ok(scene));
        prop_assert!(scene.casts.is_none());
    }
    prop_assert!(sent.to_link().is_ok() || sent.scene.to_ron().len() > MOST_LINK_LETTERS);
    Ok(())
}

/// Memory that reading any link takes: the text unpacked, and what the scene's reader makes of it.
const MOST_BYTES_TAKEN: u64 = 20 * MOST_UNPACKED_BYTES as u64;

fn outcome(link: &str) -> Result<Option<Sent>, TestCaseError> {
    let mut read = None;
    let taken = allocation_counter::measure(|| read = Some(Sent::from_link(link))).bytes_max;
    prop_assert!(taken <= MOST_BYTES_TAKEN, "{taken} bytes for a link of {}", link.len());
    match read.expect("it was read") {
        Ok(sent) => {
            is_sound(&sent)?;
            Ok(Some(sent))
        }
        Err(error) => {
            let said = error.to_string();
            prop_assert!(said.chars().count() < 1_000, "{}", said);
            prop_assert!(!said.chars().any(char::is_control), "{:?}", said);
            Ok(None)
        }
    }
}

proptest! {
    #![proptest_config(random::cases(random::USUAL_CASES))]

    #[test]
    fn a_set_up_goes_by_a_link_and_comes_back(sent in sent()) {
        match sent.to_link() {
            Ok(link) => {
                prop_assert!(link.len() <= MOST_LINK_LETTERS);
                prop_assert!(link.bytes().all(|letter| letter.is_ascii_alphanumeric() || b"-_".contains(&letter)));
                let read = Sent::from_link(&link);
                prop_assert_eq!(read.as_ref(), Ok(&sent));
                let page: PageAddress = "https://course.example/page/?week=3".parse().expect("an address");
                let read = Address::read(&page.carrying(&sent, true).expect("as the link"));
                prop_assert_eq!(read.opens, Some(Opens::SetUp(Box::new(sent))));
            }
            // Only what is large does not travel.
            Err(error) => {
                prop_assert!(matches!(error, LinkError::TooLong { .. } | LinkError::TooLarge), "{}", error);
                let lines = sent.scene.to_ron_on_one_line().len()
                    + sent.beside.as_ref().map_or(0, |scene| scene.to_ron_on_one_line().len());
                prop_assert!(lines > MOST_LINK_LETTERS / 2, "{} bytes: {}", lines, error);
            }
        }
    }

    #[test]
    fn a_link_cut_short_or_changed_is_refused_or_says_the_same(
        sent in sent(), place in any::<prop::sample::Index>(), bit in 0..6_u32,
    ) {
        let Ok(link) = sent.to_link() else { return Ok(()) };
        let place = place.index(link.len());
        prop_assert_eq!(outcome(&link[..place])?, None);
        let mut letters = link.clone().into_bytes();
        let alphabet = b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_";
        let value = alphabet.iter().position(|letter| *letter == letters[place]).expect("a letter of links");
        letters[place] = alphabet[value ^ (1 << bit)];
        let changed = String::from_utf8(letters).expect("letters");
        // One bit of a deflate stream may be one that nobody reads: those that fill up its last byte.
        if let Some(read) = outcome(&changed)? {
            prop_assert_eq!(read, sent);
        }
    }

    #[test]
    fn any_text_is_refused_or_sound(text in any::<String>(), letters in "[A-Za-z0-9_-]{0,400}") {
        for link in [&text, &format!("1{text}"), &format!("1{letters}"), &format!("1eN{letters}")] {
            outcome(link)?;
        }
    }
}

/// The laws above say nothing if hardly anything that is drawn is short enough to travel.
#[test]
fn most_of_what_is_drawn_travels() {
    let mut runner = TestRunner::deterministic();
    let travels = |_: &u32| sent().new_tree(&mut runner).expect("a set-up").current().to_link().is_ok();
    let travelling = (0..100_u32).filter(travels).count();
    assert!(travelling > 60, "{travelling} of 100");
}
